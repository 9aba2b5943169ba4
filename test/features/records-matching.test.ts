import { expect, it } from 'vitest';
import { mostMatches, recordsMatching } from '../../server/src/core/features/records-matching.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';

const drives = (...ids: readonly string[]) => ids.map((id) => `kind: drive\nid: ${id}\n`).join('---\n');
const base = { snapshot: snapshotOf({ 'd.yaml': drives('tern-1', 'a-tern', 'xternx', 't-e-r-n', 'tern', 'stern') }) };

function found(query: string, ...bases: readonly (typeof base)[]): readonly string[] {
  return recordsMatching(query, bases).map(({ kind, id }) => `${kind} ${id}`);
}

it('puts the best first: whole id, beginning, beginning of a word, anywhere, letters in order', () => {
  const expected = ['tern', 'tern-1', 'a-tern', 'stern', 'xternx', 't-e-r-n'].map((id) => `drive ${id}`);
  expect(found('tern', base)).toEqual(expected);
  expect(found(' TE rn', base)).toEqual(expected);
  expect(found('nret', base)).toEqual([]);
});

it('takes all bases together and says whose record it is, and where', () => {
  const other = { snapshot: snapshotOf({ 'f.yaml': 'kind: family\nid: tern\nmaker: m\nname: T\n' }) };
  const [first, second] = recordsMatching('tern', [base, other]);
  expect([first?.base, first?.place.file, second?.base, second?.place.file]).toEqual([base, 'd.yaml', other, 'f.yaml']);
});

it('finds no more than anybody reads', () => {
  const ids = Array.from({ length: mostMatches + 5 }, (_, position) => `d-${position}`);
  const many = { snapshot: snapshotOf({ 'd.yaml': drives(...ids) }) };
  expect(found('', many)).toEqual(ids.slice(0, mostMatches).map((id) => `drive ${id}`));
});
