import { foldText } from '../text/fold.ts';

/**
 * Whether two recorded serial numbers can be one number; undefined where that cannot be seen, as between a digest and anything else.
 * Masked ones compare by their tails: unequal tails are different numbers, equal ones fit together and prove no more than that.
 * Source: the form of `serial` in schemas/drive.schema.json.
 */
export function isSameSerial(a: string, b: string): boolean | undefined {
  if (a === b) return true;
  const left = read(a);
  const right = read(b);
  if ((left.form === 'digest') !== (right.form === 'digest')) return undefined;
  if (left.form === 'digest') return left.text.startsWith(right.text) || right.text.startsWith(left.text);
  if (left.form === 'full' && right.form === 'full') return left.text === right.text;
  return endsWith(left, right) || endsWith(right, left);
}

/** Whether a serial number stands there in full, neither masked nor as a digest. */
export function isFullSerial(text: string): boolean {
  return read(text).form === 'full';
}

/** A full number ends with its tail, and a tail with a shorter cut of itself. */
function endsWith(whole: Serial, tail: Serial): boolean {
  return tail.form === 'masked' && whole.text.endsWith(tail.text);
}

interface Serial {
  readonly form: 'masked' | 'digest' | 'full';
  readonly text: string;
}

function read(serial: string): Serial {
  const text = foldText(serial);
  if (text.startsWith('digest:')) return { form: 'digest', text: text.slice('digest:'.length) };
  return text.startsWith('****') ? { form: 'masked', text: text.slice(4) } : { form: 'full', text };
}
