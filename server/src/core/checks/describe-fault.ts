import type { Fault } from '../model/fault.ts';
import { inThousands } from '../text/in-thousands.ts';
import { nearestClause } from '../text/near-names.ts';
import type { Draft, Spot } from './define-check.ts';
import { describeProblem } from './schema.ts';

/** A fault in a file that holds settings and no records, in words. `file` is its path, `what` what people call it, such as `config`. */
export function describeFault(fault: Fault, file: string, what: string): Draft {
  const begin = { file, start: 0, end: 0 };
  switch (fault.kind) {
    case 'syntax':
    case 'too-deep':
      return { at: { file, start: fault.start, end: fault.end }, message: fault.reason };
    case 'duplicate-key':
      return {
        at: { file, start: fault.start, end: fault.end },
        message: `Key \`${fault.key}\` already stands in this map, and its first value counts.`,
      };
    case 'unknown-key':
      return { at: spotOf(fault, file, 'key'), message: unknownSetting(fault.path, fault.near) };
    case 'schema':
      return {
        at: spotOf(fault, file, 'value'),
        ...describeProblem(String(fault.path.findLast(isKey) ?? file), fault.problem, `The ${what}`),
      };
    case 'not-text':
    case 'unreadable':
      return { at: begin, message: `The ${what} cannot be read: ${fault.reason}.` };
    case 'too-large':
      return { at: begin, message: `The ${what} has ${inThousands(fault.bytes)} bytes, far more than one needs.` };
  }
}

function isKey(step: string | number): step is string {
  return typeof step === 'string';
}

function spotOf(fault: Extract<Fault, { document: number }>, file: string, side: 'key' | 'value'): Spot {
  return { file, document: fault.document, path: fault.path, side };
}

function unknownSetting(path: readonly (string | number)[], near: readonly string[]): string {
  const parent = path.slice(0, -1).findLast(isKey);
  const place = parent === undefined ? '' : ` in \`${parent}\``;
  const nearest = nearestClause(near);
  return `Key \`${path.at(-1)}\` is not known${place}${nearest}.`;
}
