import fc from 'fast-check';
import { stringify } from 'yaml';
import { addComments } from './add-comments.ts';
import { type PlainBase, type PlainRecord, recordsOf } from './arbitrary-base.ts';

/** How a base is spread over files: numbers that are used in turn, over and over. */
export interface Layout {
  readonly places: readonly number[];
  readonly order: readonly number[];
  readonly comments: readonly number[];
}

const numbers = fc.array(fc.nat(), { minLength: 1, maxLength: 12 });

/** Any layout. */
export const arbitraryLayout: fc.Arbitrary<Layout> = fc.record({
  places: numbers,
  order: numbers,
  comments: numbers,
});

const paths = ['makers/all.yaml', 'a.yml', 'drives/shelf 2.yaml', 'drives/Z.yaml', 'outcomes/2026/one.yaml', 'ä.yaml'];

/** The texts of a base by path: several documents in one file, in any order, with comments here and there; its config included. */
export function writeFiles(base: PlainBase, { places, order, comments }: Layout): Record<string, string> {
  const placed = recordsOf(base).map((record, position) => ({
    record,
    path: turn(paths, turn(places, position)),
    key: turn(order, position),
  }));
  const byPath = new Map<string, PlainRecord[]>();
  for (const { record, path } of placed.sort((a, b) => a.key - b.key)) {
    byPath.set(path, [...(byPath.get(path) ?? []), record]);
  }
  const texts = [...byPath].map(([path, inside]) => {
    const documents = inside.map((record, position) => writeRecord(record, turn(comments, position) % 5 === 0));
    return [path, addComments(documents.join('---\n'), comments)] as const;
  });
  return { 'swaplore.yaml': stringify(base.config), ...Object.fromEntries(texts) };
}

/** One record as a document: a block of YAML, or JSON, which is YAML too. */
function writeRecord(record: PlainRecord, asJson: boolean): string {
  return asJson ? `${JSON.stringify(record)}\n` : stringify(record, { lineWidth: 0 });
}

function turn<Item>(list: readonly Item[], position: number): Item {
  const item = list[position % list.length];
  if (item === undefined) throw new Error('a layout holds at least one number of each sort');
  return item;
}
