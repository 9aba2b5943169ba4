import type { Kind } from '../terms/kinds.ts';

/** An id that stands in a file although its record cannot be used: references to it are not at fault. */
export interface BareId {
  /** Undefined where the kind itself could not be read. */
  readonly kind: Kind | undefined;
  readonly id: string;
}
