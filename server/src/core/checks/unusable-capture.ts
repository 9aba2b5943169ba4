import type { Fault } from '../model/fault.ts';
import type { Path } from '../syntax/tape.ts';
import { inThousands } from '../text/in-thousands.ts';
import type { Draft, Spot } from './define-check.ts';

/** A capture file, as a sentence begins that names it, with what is wrong with it. */
interface Unusable {
  readonly names: string;
  /** Path in the base. */
  readonly file: string;
  readonly faults: readonly Fault[];
}

/** What is said of a file that is there and is no sound capture; undefined where it is one. Values are not quoted: they may be serial numbers. */
export function describeUnusable({ names, file, faults: [fault] }: Unusable): Omit<Draft, 'at'> | undefined {
  if (fault === undefined) return undefined;
  const spot = spotOf(file, fault);
  return {
    message: `${names}, which is no capture that can be read: ${reasonOf(fault)}.`,
    help: 'Write captures with `swaplore capture`.',
    related: spot ? [{ at: spot, message: 'Here in the capture.' }] : [],
  };
}

function spotOf(file: string, fault: Fault): Spot | undefined {
  if ('path' in fault) return { file, document: fault.document, path: fault.path, side: 'value' };
  return 'start' in fault ? { file, start: fault.start, end: fault.end } : undefined;
}

function reasonOf(fault: Fault): string {
  switch (fault.kind) {
    case 'unreadable':
    case 'not-text':
      return fault.reason;
    case 'too-large':
      return `it has ${inThousands(fault.bytes)} bytes`;
    case 'schema':
      return fault.path.length === 0 ? 'it is no capture file' : schemaReason(fault);
    case 'unknown-key':
      return `\`${nameOf(fault.path)}\` is no key of capture files`;
    case 'duplicate-key':
      return `\`${fault.key}\` stands there twice`;
    case 'syntax':
    case 'too-deep':
      return 'its form is broken';
  }
}

function schemaReason({ path, problem }: Extract<Fault, { readonly kind: 'schema' }>): string {
  const name = `\`${nameOf(path)}\``;
  switch (problem.what) {
    case 'missing':
      return `${name} is missing, ${problem.expected} is needed`;
    case 'unquoted':
      return `${name} has to stand in quotes`;
    case 'refused':
      return `${name} is not right, ${problem.expected} is needed`;
  }
}

function nameOf(path: Path): string {
  return path.join('.');
}
