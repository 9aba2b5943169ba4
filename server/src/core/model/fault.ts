import type { SchemaFault } from '../schema/schema-fault.ts';
import type { SyntaxFault } from '../syntax/syntax-fault.ts';

/**
 * Invariant 4: what is wrong inside one file, as plain data without the file's path and without a date. The checks of the file
 * and structure groups put faults into words.
 */
export type Fault = SyntaxFault | UnreadableFault | (SchemaFault & InDocument);

/** The host could not read the file. */
interface UnreadableFault {
  readonly kind: 'unreadable';
  /** Why, in words, such as "permission denied". */
  readonly reason: string;
}

/** Which document of the file a fault lies in, counted from 0. */
interface InDocument {
  readonly document: number;
}
