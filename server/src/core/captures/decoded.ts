import type { CaptureSourcesData, CaptureValuesData } from '../../../../schemas/gen/records.ts';

/** What a decoder makes of what a drive reported: the values found, what is wrong, and what nobody could name. */

/** A form of what a drive reported that can be read; `capture` is a file that `swaplore capture` wrote. */
export type CaptureFormat = NonNullable<CaptureSourcesData['format']>;

/** What a drive says of itself, as far as it said so: the keys of `values` in capture files. Texts are trimmed and never empty. */
export type CaptureValues = CaptureValuesData;

/** Something wrong with what was read: an `error` where the values cannot be relied on. */
export interface CaptureProblem {
  readonly severity: 'error' | 'warning';
  /** One sentence. */
  readonly message: string;
}

/** Something that was reported and has no name here, kept as it came. */
export interface UnnamedField {
  /** Where it stood: `word 160`, `designator 3`, `attribute 240`, `ata_smart_data.self_test`. */
  readonly at: string;
  /** Hexadecimal digits for bytes, else the text. */
  readonly value: string;
}

/** What a decoder made of some bytes. `format` is undefined where nobody can tell what they are; then there is one problem. */
export interface Decoded {
  readonly format: CaptureFormat | undefined;
  readonly values: CaptureValues;
  readonly problems: readonly CaptureProblem[];
  readonly unnamed: readonly UnnamedField[];
  /** Texts in unnamed fields that may be serial numbers, though nobody can tell; absent where there are none. */
  readonly likelySerials?: readonly string[];
}
