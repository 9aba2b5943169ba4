import type { Path } from '../syntax/tape.ts';
import type { Severity } from '../terms/severities.ts';
import type { Fix } from './fix.ts';

/**
 * Invariant 6: a place names a file by path and content, and in it a stretch of text or a key path; it becomes offsets only when it
 * is shown. Paths are relative to the base (invariant 16).
 */
export interface Place {
  readonly file: string;
  readonly contentId: string;
  readonly target: Target;
}

/** A stretch of text, or the key or value at a path of one document. */
export type Target =
  | { readonly start: number; readonly end: number }
  | { readonly document: number; readonly path: Path; readonly side: 'key' | 'value' };

/** What a check has found, as data. Adapters put it into their own form. */
export interface Finding {
  readonly check: string;
  readonly severity: Severity;
  readonly place: Place;
  readonly message: string;
  readonly help: string | undefined;
  /** `kind/id` of the record it is about; undefined for configs and text that holds no record. */
  readonly record: string | undefined;
  readonly related: readonly { readonly place: Place; readonly message: string }[];
  /** What would mend it, the likeliest first; often nothing. */
  readonly fixes: readonly Fix[];
}
