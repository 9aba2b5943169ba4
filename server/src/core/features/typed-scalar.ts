import { lineScalar } from '../edits/write-scalar.ts';

/** A text as it has to be typed to be read as that text: within the quotes that stand there, else as an edit would write it. */
export function typedScalar(
  text: string,
  { quote, isInFlow }: { readonly quote: '"' | "'" | undefined; readonly isInFlow: boolean },
): string {
  if (quote === "'") return text.replaceAll("'", "''");
  if (quote === '"') return JSON.stringify(text).slice(1, -1);
  return lineScalar(text, 'plain', isInFlow);
}
