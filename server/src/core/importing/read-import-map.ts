import type { MappingData } from '../../../../schemas/gen/records.ts';
import type { Spot } from '../checks/define-check.ts';
import { describeFault } from '../checks/describe-fault.ts';
import { spanOf } from '../checks/resolve-place.ts';
import type { Fault } from '../model/fault.ts';
import { validate } from '../schema/validate.ts';
import { buildData, type DataMap } from '../syntax/build-data.ts';
import { limits } from '../syntax/limits.ts';
import { readText } from '../syntax/read-text.ts';
import type { Span, Tape } from '../syntax/tape.ts';
import { decodeText } from '../text/decode.ts';
import type { ImportMap } from './import-map.ts';
import type { MapFault } from './map-fault.ts';
import { planRecords } from './plan-records.ts';

/** A map that follows its schema. What it says of columns is not known to fit any table. */
export interface ReadMap {
  readonly tape: Tape;
  readonly data: MappingData;
}

/** Reads the bytes of a map. Its faults come in the order of the file; where there is any, the map is of no use. Never throws. */
export function readImportMap(
  bytes: Uint8Array,
): ReadMap | { readonly tape: Tape; readonly faults: readonly MapFault[] } {
  const decoded = decodeText(bytes);
  const noTape: Tape = { text: '', entries: [], documents: [] };
  if ('reason' in decoded) return refused(noTape, [{ kind: 'not-text', reason: decoded.reason }]);
  if (bytes.length > limits.fileBytes) return refused(noTape, [{ kind: 'too-large', bytes: bytes.length }]);
  const { tape, faults } = readText(decoded.text);
  if (faults.length > 0) return refused(tape, faults);
  const documents = tape.documents.filter(({ root }) => root >= 0);
  const [only] = documents;
  if (!only || documents.length > 1 || tape.entries[only.root]?.kind !== 'map') {
    const problem = { what: 'missing', expected: 'one document that begins with `mapping: 1`' } as const;
    return refused(tape, [{ kind: 'schema', document: 0, path: ['mapping'], problem }]);
  }
  const built = buildData(tape, only.root);
  if (built.data === undefined || built.faults.length > 0) return refused(tape, built.faults);
  const data = built.data as DataMap;
  const found = validate({ kind: 'mapping', data, tape, root: only.root });
  if (found.length > 0)
    return refused(
      tape,
      found.map((fault) => ({ ...fault, document: 0 })),
    );
  return { tape, data: data as MappingData };
}

/** The map for a table with these headings, or what of it does not fit them or our keys. */
export function fitImportMap(
  { tape, data }: ReadMap,
  headings: readonly string[],
): ImportMap | { readonly faults: readonly MapFault[] } {
  const planned = planRecords(data, headings);
  if (!('faults' in planned)) return { table: data.table ?? {}, records: planned.records };
  const document = tape.documents.findIndex(({ root }) => root >= 0);
  const faults = planned.faults.map(({ path, message, help }) => {
    return { ...spanOf(tape, { document, path, side: 'value' }), message, help };
  });
  return { faults: sorted(faults) };
}

function refused(tape: Tape, faults: readonly Fault[]): { readonly tape: Tape; readonly faults: readonly MapFault[] } {
  const drafts = faults.map((fault) => describeFault(fault, '', 'map'));
  return {
    tape,
    faults: sorted(drafts.map(({ at, message, help }) => ({ ...spanAt(tape, at), message, help }))),
  };
}

function spanAt(tape: Tape, spot: Spot): Span {
  if ('start' in spot) return { start: spot.start, end: spot.end };
  return spanOf(tape, { document: 'document' in spot ? spot.document : 0, path: spot.path, side: spot.side });
}

function sorted(faults: readonly MapFault[]): readonly MapFault[] {
  return [...faults].sort((a, b) => a.start - b.start || a.end - b.end);
}
