/** What a plain scalar may stand for. */
export type ScalarValue = string | number | boolean | null;

const integer = /^[-+]?[0-9]+$/;
const octal = /^0o[0-7]+$/;
const hexadecimal = /^0x[0-9a-fA-F]+$/;
const float = /^[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?$/;
const infinity = /^([-+]?)\.(?:inf|Inf|INF)$/;
const notANumber = /^\.(?:nan|NaN|NAN)$/;

/**
 * The value of a plain scalar: `no`, `12:30` and `2001-12-14` stay text, `010` is ten, `0o10` is eight.
 * Source: YAML 1.2.2, 10.3.2 "Tag Resolution" of the core schema.
 */
export function resolvePlain(text: string): ScalarValue {
  const first = text.charCodeAt(0);
  // Most values begin with a letter that no number, boolean or null begins with.
  if (Number.isNaN(first) || isNull(text)) return null;
  if (text === 'true' || text === 'True' || text === 'TRUE') return true;
  if (text === 'false' || text === 'False' || text === 'FALSE') return false;
  return resolveNumber(text, first) ?? text;
}

function isNull(text: string): boolean {
  return text === '~' || text === 'null' || text === 'Null' || text === 'NULL';
}

function resolveNumber(text: string, first: number): number | undefined {
  const canStartNumber = (first >= 48 && first <= 57) || first === 43 || first === 45 || first === 46;
  if (!canStartNumber) return undefined;
  if (integer.test(text) || float.test(text)) return Number(text);
  if (octal.test(text)) return Number.parseInt(text.slice(2), 8);
  if (hexadecimal.test(text)) return Number.parseInt(text.slice(2), 16);
  const infinite = infinity.exec(text);
  if (infinite) return infinite[1] === '-' ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
  return notANumber.test(text) ? Number.NaN : undefined;
}
