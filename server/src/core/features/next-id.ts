import type { Snapshot } from '../index/snapshot.ts';
import type { DriveRecord } from '../model/record.ts';
import type { Kind } from '../terms/kinds.ts';
import type { OpenFile } from './open-file.ts';

/** The record that wants an id: its document in the file, and the scalars under its keys. */
interface Nameless {
  readonly document: number;
  readonly siblings: ReadonlyMap<string, string>;
}

/**
 * A free id for a record of a kind, made the way the base's ids of that kind are; undefined where they show no way, where the record
 * lacks what goes into one, and as long as not every id is known.
 */
export function nextId(file: OpenFile, kind: Kind, { document, siblings }: Nameless): string | undefined {
  if (!file.isIndexed) return undefined;
  const { snapshot, path } = file;
  return proposeId({ snapshot, kind, siblings, path, isTaken: (id) => isRecorded(file, kind, id, document) });
}

/** What an id is proposed from. */
export interface IdRequest {
  readonly snapshot: Snapshot;
  readonly kind: Kind;
  /** The scalars under the keys of the record. */
  readonly siblings: ReadonlyMap<string, string>;
  /** The file whose numbers the record goes on with; undefined for a file of its own. */
  readonly path?: string;
  readonly isTaken: (id: string) => boolean;
}

/** The same for a record that stands nowhere yet. */
export function proposeId(request: IdRequest): string | undefined {
  const { snapshot, kind, siblings, isTaken } = request;
  if (snapshot.mayMissIds) return undefined;
  return kind === 'outcome' ? outcomeId(snapshot, siblings, isTaken) : numberedId(request);
}

/** Whether any record but the one at hand has an id. */
function isRecorded({ snapshot, path }: OpenFile, kind: Kind, id: string, document: number): boolean {
  const found = snapshot.findAny(kind, id);
  if (!found) return snapshot.hasBareId(kind, id);
  const standing = snapshot.locate(found);
  return standing.file.path !== path || standing.document !== document;
}

/** An id that ends in a number, taken apart. */
interface Numbered {
  readonly stem: string;
  readonly digits: string;
}

function numberedId({ snapshot, kind, path = '', isTaken }: IdRequest): string | undefined {
  const ids = snapshot.records(kind).map(({ id }) => id);
  const series = seriesOf(ids);
  if (!series) return undefined;
  const here = snapshot.files.get(path)?.facts.records.filter(({ record }) => record.kind === kind) ?? [];
  // A file that holds a run of numbers goes on with its own.
  const own = here.flatMap(({ record }) => numberIn(record.id, series) ?? []);
  const all = own.length > 0 ? own : ids.flatMap((id) => numberIn(id, series) ?? []);
  for (let number = highest(all) + 1; ; number++) {
    const id = `${series.stem}${String(number).padStart(series.digits.length, '0')}`;
    if (!isTaken(id)) return id;
  }
}

/** The series that half of the ids or more belong to, in which most numbers follow one another; else its ids are no counting. */
function seriesOf(ids: readonly string[]): Numbered | undefined {
  const groups = new Map<string, { readonly sample: Numbered; readonly numbers: Set<number> }>();
  for (const id of ids) {
    const start = digitsStart(id);
    if (start === id.length) continue;
    const stem = id.slice(0, start);
    const digits = id.slice(start);
    const name = `${stem} ${digits.length}`;
    const group = groups.get(name) ?? { sample: { stem, digits }, numbers: new Set() };
    groups.set(name, group);
    group.numbers.add(Number(digits));
  }
  for (const { sample, numbers } of groups.values()) {
    let followed = 0;
    for (const number of numbers) if (numbers.has(number + 1)) followed++;
    if (numbers.size * 2 >= ids.length && followed > 0 && followed * 2 >= numbers.size) return sample;
  }
  return undefined;
}

/** Where the digits begin that an id ends in; its length where it ends in none. */
function digitsStart(id: string): number {
  let start = id.length;
  while (start > 0 && isDigit(id.charCodeAt(start - 1))) start--;
  return start;
}

function isDigit(unit: number): boolean {
  return unit >= 48 && unit <= 57;
}

function numberIn(id: string, { stem, digits }: Numbered): number | undefined {
  const isOfSeries = id.length === stem.length + digits.length && id.startsWith(stem);
  return isOfSeries && digitsStart(id) <= stem.length ? Number(id.slice(stem.length)) : undefined;
}

function highest(numbers: readonly number[]): number {
  let most = 0;
  for (const number of numbers) most = Math.max(most, number);
  return most;
}

/** DATE-STEM-PATIENT-DONOR, with the stem that outcomes of the patient's family have, else the family's id. */
function outcomeId(
  snapshot: Snapshot,
  siblings: ReadonlyMap<string, string>,
  isTaken: (id: string) => boolean,
): string | undefined {
  const date = siblings.get('date');
  const patient = snapshot.find('drive', siblings.get('patient'));
  const donor = snapshot.find('drive', siblings.get('donor'));
  if (!date || !/^\d{4}-\d\d-\d\d$/.test(date) || !patient || !donor || !patient.data.family) return undefined;
  const stem = stemOf(snapshot, patient) ?? patient.data.family;
  const id = `${date}-${stem}-${tailOf(patient.id)}-${tailOf(donor.id)}`;
  let free = id;
  for (let again = 2; isTaken(free); again++) free = `${id}-${again}`;
  return free;
}

function stemOf(snapshot: Snapshot, { data }: DriveRecord): string | undefined {
  for (const { id, data: outcome } of snapshot.records('outcome')) {
    if (snapshot.find('drive', outcome.patient)?.data.family !== data.family) continue;
    const start = `${outcome.date}-`;
    const end = `-${tailOf(outcome.patient ?? '')}-${tailOf(outcome.donor ?? '')}`;
    if (id.startsWith(start) && id.endsWith(end) && id.length > start.length + end.length) {
      return id.slice(start.length, -end.length);
    }
  }
  return undefined;
}

/** The number a drive's id ends in, without zeros before it, else the id. */
function tailOf(id: string): string {
  const digits = id.slice(digitsStart(id));
  return digits === '' ? id : digits.replace(/^0+(?=.)/, '');
}
