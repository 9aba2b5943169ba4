import type { Path } from '../syntax/tape.ts';

/** A key or value the schema does not allow. Plain data; `checks/schema.ts` and `checks/unknown-key.ts` put it into words. */
export type SchemaFault =
  | {
      readonly kind: 'unknown-key';
      /** Path of the unknown key, itself included. */
      readonly path: Path;
      readonly near: readonly string[];
      /** All keys that may stand there, required ones first. */
      readonly known: readonly string[];
    }
  | {
      readonly kind: 'schema';
      /** Path of the value at fault; of a missing key, the path it would have. */
      readonly path: Path;
      readonly problem: SchemaProblem;
    };

/** What is wrong with a value. `expected` completes "… is needed". */
export type SchemaProblem =
  /** A required key stands nowhere, or has no value. */
  | { readonly what: 'missing'; readonly expected: string }
  /** A plain number or boolean stands where text is due: quoting mends it. */
  | { readonly what: 'unquoted'; readonly typed: string; readonly readAs: string }
  /** The value is of the wrong type, not on the list, too small or large, or not of the right form. */
  | { readonly what: 'refused'; readonly typed: string; readonly expected: string; readonly near: readonly string[] };
