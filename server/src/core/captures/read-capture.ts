/**
 * Invariant 4: capture facts are a function of the bytes and the schema's version, and plain data.
 * Laws (test/property/read-capture.property.test.ts):
 * - a capture reads as it was written
 * - reading never throws, wherever a file is cut off or damaged
 * - facts survive a round trip through JSON
 * - what is said of a file once it is masked is what it then says
 * - what is said to mask a file leaves nothing in it to mask
 */
import type { CaptureData } from '../../../../schemas/gen/records.ts';
import type { Intent } from '../edits/intent.ts';
import { planEdits } from '../edits/plan-edits.ts';
import { isRefusal, replaceIn } from '../edits/text-edit.ts';
import type { Fault } from '../model/fault.ts';
import { withoutUnusable } from '../model/prune.ts';
import { validate } from '../schema/validate.ts';
import { buildData, type Data, type DataMap } from '../syntax/build-data.ts';
import { limits } from '../syntax/limits.ts';
import { readText } from '../syntax/read-text.ts';
import type { Path, Tape } from '../syntax/tape.ts';
import { isMaskedSerial } from '../terms/masked-serial.ts';
import { decodeText } from '../text/decode.ts';
import { sha256 } from '../text/sha256.ts';
import type { CaptureProblem, CaptureValues } from './decoded.ts';
import { maskSerials, recordedSerials } from './mask-serials.ts';

/** All that is known of one capture file. */
export interface CaptureFacts {
  /** The day it was taken, where the file says. */
  readonly taken?: string;
  /** The usable ones of the values of all sources together. */
  readonly values: CaptureValues;
  /** What the file says is wrong with it, of all sources together first; `source` names one. */
  readonly problems: readonly (CaptureProblem & { readonly source?: string })[];
  /** What is wrong with the file itself, in the order of the file; where there is any, a value may be missing. */
  readonly faults: readonly Fault[];
  /** Serial numbers in full that sources report besides the one among the values: a problem may name them. Absent where there is none. */
  readonly otherSerials?: readonly { readonly serial: string }[];
  /** Where a serial number stands in full, in whatever spelling, or a digest gives it away, and what to write instead. */
  readonly serials: readonly FullSerial[];
  /** The SHA-256 of the file once that is written instead; absent where nothing has to be, or nobody can tell. */
  readonly maskedSha256?: string;
}

/** A text of a capture file that gives a serial number away. The number itself is not kept. */
export interface FullSerial {
  readonly path: Path;
  /** The text with the number masked; absent where nothing of it may be shown. */
  readonly masked?: string;
}

/** Reads the bytes of a capture file. Never throws. */
export function readCapture(bytes: Uint8Array): CaptureFacts {
  const decoded = decodeText(bytes);
  if ('reason' in decoded) return unusable([{ kind: 'not-text', reason: decoded.reason }]);
  if (bytes.length > limits.fileBytes) return unusable([{ kind: 'too-large', bytes: bytes.length }]);
  const { tape, faults } = readText(decoded.text);
  if (faults.length > 0) return unusable(faults);
  // A byte order mark would be left out of the sum.
  const isWhole = new TextEncoder().encode(decoded.text).length === bytes.length;
  return factsOf(tape, isWhole);
}

function unusable(faults: readonly Fault[]): CaptureFacts {
  return { values: {}, problems: [], faults, serials: [] };
}

function factsOf(tape: Tape, isWhole: boolean): CaptureFacts {
  const documents = tape.documents.filter(({ root }) => root >= 0);
  const [only] = documents;
  if (!only || documents.length > 1 || tape.entries[only.root]?.kind !== 'map') {
    return unusable([{ kind: 'schema', document: 0, path: [], problem: { what: 'missing', expected: theForm } }]);
  }
  const built = buildData(tape, only.root);
  if (built.data === undefined) return unusable(built.faults);
  const data = built.data as DataMap;
  const found = validate({ kind: 'capture', data, tape, root: only.root });
  const faults = [...built.faults, ...found.map((fault) => ({ ...fault, document: 0 }))];
  const serials = serialsIn(data);
  const masked = isWhole ? maskedText(tape, serials) : undefined;
  const masking = {
    serials,
    ...(masked === undefined ? {} : { maskedSha256: sha256(new TextEncoder().encode(masked)) }),
  };
  if (found.some(({ path }) => path[0] === 'capture')) return { ...unusable(faults), ...masking };
  const usable = withoutUnusable(
    data,
    found.map(({ path }) => path),
  );
  const content = contentOf(usable.data as CaptureData);
  const others = otherSerials(data, content.values.serial);
  return { ...content, faults, ...(others.length > 0 ? { otherSerials: others } : {}), ...masking };
}

function otherSerials(data: DataMap, counting: string | undefined): readonly { readonly serial: string }[] {
  const others = recordedSerials(data).filter((serial) => serial !== counting && !isMaskedSerial(serial));
  return [...new Set(others)].map((serial) => ({ serial }));
}

const theForm = 'one map that begins with `"capture": 1`';

function contentOf({
  taken,
  values = {},
  problems = [],
  sources = [],
}: CaptureData): Omit<CaptureFacts, 'faults' | 'otherSerials' | 'serials' | 'maskedSha256'> {
  const all = [
    ...problems.map((problem) => ({ problem, source: undefined })),
    ...sources.flatMap(({ name, problems: own = [] }) => own.map((problem) => ({ problem, source: name }))),
  ];
  return {
    ...(taken === undefined ? {} : { taken }),
    values,
    problems: all.flatMap(({ problem: { severity, message }, source }) =>
      severity === undefined || message === undefined
        ? []
        : [{ severity, message, ...(source === undefined ? {} : { source }) }],
    ),
  };
}

/** The texts that masking would change. */
function serialsIn(data: DataMap): readonly FullSerial[] {
  return differences(data, maskSerials<Data>(data, 'masked'), []);
}

function differences(before: Data, after: Data | undefined, path: Path): readonly FullSerial[] {
  if (before === after) return [];
  if (typeof before !== 'object' || before === null)
    return [after === undefined ? { path } : { path, masked: String(after) }];
  const parts: readonly (readonly [string | number, Data])[] = Array.isArray(before)
    ? [...before.entries()]
    : Object.entries(before);
  return parts.flatMap(([step, part]) => differences(part, partOf(after, step), [...path, step]));
}

function partOf(data: Data | undefined, step: string | number): Data | undefined {
  return typeof data === 'object' && data !== null
    ? (data as Readonly<Record<string | number, Data>>)[step]
    : undefined;
}

/** The intents that mask a capture file. */
export function maskingIntents(serials: readonly FullSerial[]): readonly Intent[] {
  return serials.map(({ path, masked }) =>
    masked === undefined
      ? { intent: 'remove', document: 0, path }
      : { intent: 'set', document: 0, path, value: masked },
  );
}

/** What is known of the file once its serial numbers are masked. */
export function afterMasking(facts: CaptureFacts): CaptureFacts {
  const { maskedSha256: _, otherSerials: __, ...rest } = facts;
  const { values, problems } = maskSerials(facts, 'masked');
  return { ...rest, values, problems, serials: [] };
}

/** Undefined where nothing is to be masked, or that cannot be done safely. */
function maskedText(tape: Tape, serials: readonly FullSerial[]): string | undefined {
  if (serials.length === 0) return undefined;
  const planned = planEdits({ tape, contentId: '' }, maskingIntents(serials));
  return isRefusal(planned) ? undefined : replaceIn(tape.text, planned.edits);
}
