import { resolvePlain } from '../syntax/core-schema.ts';
import { canStartPlain } from '../syntax/plain-text.ts';

/** A text as it has to be typed to be read as that text: within the quotes that stand there, plain, or in quotes of its own. */
export function typedScalar(
  text: string,
  { quote, isInFlow }: { readonly quote: '"' | "'" | undefined; readonly isInFlow: boolean },
): string {
  if (quote === "'") return text.replaceAll("'", "''");
  if (quote === '"') return doubleQuoted(text);
  return isPlain(text, isInFlow) ? text : `"${doubleQuoted(text)}"`;
}

function doubleQuoted(text: string): string {
  return JSON.stringify(text).slice(1, -1);
}

function isPlain(text: string, isInFlow: boolean): boolean {
  const isOneWord = resolvePlain(text) === text && canStartPlain(text, 0) && !/\s$|[\p{Cc}\p{Cf}]/u.test(text);
  return isOneWord && !/:(?:\s|$)|\s#/.test(text) && !(isInFlow && /[,[\]{}]/.test(text)) && !/^(?:---|<<$)/.test(text);
}
