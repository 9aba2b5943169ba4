import { sha256 } from '../text/sha256.ts';
import { decode } from './decode.ts';
import type { CaptureFormat, CaptureProblem, CaptureValues, Decoded, UnnamedField } from './decoded.ts';
import { maskSerials, type SerialPolicy } from './mask-serials.ts';
import { mergeValues } from './merge-values.ts';

/** What a capture file holds. Source: schemas/capture.schema.json. */
export interface Capture {
  readonly capture: 1;
  /** The day, as in `2024-09-17`. */
  readonly taken?: string;
  /** The values of all sources together. */
  readonly values: CaptureValues;
  /** Where the sources contradict one another; absent where they do not. */
  readonly problems?: readonly CaptureProblem[];
  /** At least one. */
  readonly sources: readonly CaptureSource[];
}

/** One thing that was read from the drive, and what was made of it. Empty lists are left out. */
interface CaptureSource {
  readonly name: string;
  readonly format?: CaptureFormat;
  /** Of the raw bytes; left out where serial numbers are not written in full. */
  readonly sha256?: string;
  readonly values: CaptureValues;
  readonly unnamed?: readonly UnnamedField[];
  readonly problems?: readonly CaptureProblem[];
}

/** Something that was read. */
export interface ReadSource {
  readonly name: string;
  readonly bytes: Uint8Array;
  /** What was made of the bytes, where they do not tell that by themselves. */
  readonly decoded?: Decoded;
}

/** What a capture is made of. */
export interface CaptureInput {
  /** What was read: `vpd_pg89`, `smartctl --json`. At least one. */
  readonly sources: readonly ReadSource[];
  /** The day, as in `2024-09-17`. */
  readonly taken?: string;
  readonly serials: SerialPolicy;
}

/** The capture that comes of what was read from one drive at one time, serial numbers written as the policy says. Never throws. */
export function captureOf({ sources: inputs, taken, serials }: CaptureInput): Capture {
  const read = inputs.map(({ name, bytes, decoded = decode(bytes) }) => ({ name, bytes, decoded }));
  const sources = read.map(toSource);
  const { values, problems } = mergeValues(sources);
  const capture: Capture = {
    capture: 1,
    ...(taken === undefined ? {} : { taken }),
    values,
    ...(problems.length > 0 ? { problems } : {}),
    sources,
  };
  const likely = read.flatMap(({ decoded }) => decoded.likelySerials ?? []).map((serial) => ({ serial }));
  return maskSerials({ capture, likely }, serials).capture;
}

function toSource({ name, bytes, decoded }: Required<ReadSource>): CaptureSource {
  const { format, values, unnamed, problems } = decoded;
  // An empty value would count as absent when the file is read.
  const fields = unnamed.filter(({ value }) => value !== '');
  return {
    name,
    ...(format === undefined ? {} : { format }),
    sha256: sha256(bytes),
    values,
    ...(fields.length > 0 ? { unnamed: fields } : {}),
    ...(problems.length > 0 ? { problems } : {}),
  };
}
