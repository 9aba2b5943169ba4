import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { configPath } from '../../server/src/core/checks/config-invalid.ts';
import { type BaseFile, Snapshot } from '../../server/src/core/index/snapshot.ts';
import { ruleResults } from '../../server/src/core/reasoning/rule-results.ts';
import { arbitraryBase, type PlainBase, type PlainRecord, recordsOf } from '../harness/arbitrary-base.ts';
import { arbitraryFaultyFiles } from '../harness/arbitrary-faulty-files.ts';
import { arbitraryFileWalk, arbitraryRecordWalk, editedPaths, withoutConfig } from '../harness/arbitrary-walk.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { allRecords, describeSnapshot } from '../harness/describe-snapshot.ts';
import { replaceRecord } from '../harness/open-slots.ts';
import { configFileOf, fileOf, snapshotOf } from '../harness/snapshot-of.ts';
import { arbitraryLayout, writeFiles } from '../harness/write-files.ts';

type Texts = Readonly<Record<string, string>>;

/** A host that keeps what it read by content, so that two files of one content share their records; or one that does not. */
function makeReader(keeps: boolean): (path: string, text: string) => BaseFile {
  const kept = new Map<string, BaseFile['facts']>();
  return (path, text) => {
    const file = fileOf(path, text);
    const facts = kept.get(file.contentId) ?? file.facts;
    if (keeps) kept.set(file.contentId, facts);
    return { ...file, facts };
  };
}

/** Takes a snapshot along a walk, and holds it against a fresh one at every step. */
function expectFreshAfter(
  first: Snapshot,
  walk: readonly Texts[],
  read: (path: string, text: string) => BaseFile,
): void {
  let snapshot = first;
  for (const [step, texts] of walk.slice(1).entries()) {
    const changes = editedPaths(walk[step]!, texts).map((path) => {
      const text = texts[path];
      return { path, file: text === undefined ? undefined : read(path, text) };
    });
    snapshot = snapshot.with(changes);
    expectFresh(snapshot, texts);
  }
}

function expectFresh(snapshot: Snapshot, texts: Texts): void {
  expect(describeSnapshot(snapshot, texts)).toEqual(describeSnapshot(snapshotOf(texts), texts));
}

describe('snapshot', () => {
  it('a snapshot with edits equals a fresh snapshot of the edited files', () => {
    // Several edits at a time, as when a branch is changed.
    const walks = arbitraryFileWalk({ minLength: 3, maxLength: 9 }).map((walk) =>
      walk.filter((_, step) => step % 3 === 0),
    );
    assertLaw(
      20,
      fc.property(walks, fc.boolean(), ([before = {}, ...steps], keeps) => {
        const read = makeReader(keeps);
        const files = Object.entries(withoutConfig(before)).map(([path, text]) => read(path, text));
        const first = Snapshot.of(configFileOf(before[configPath] ?? ''), files);
        expectFresh(first, before);
        expectFreshAfter(first, [before, ...steps], read);
        // What came later changed nothing in the one it came from.
        expectFresh(first, before);
      }),
    );
    assertLaw(
      60,
      fc.property(arbitraryRecordWalk({ minLength: 1, maxLength: 8 }), (walk) => {
        const first = snapshotOf(walk[0]);
        ruleResults(first);
        expectFreshAfter(first, walk, fileOf);
      }),
    );
  });

  it('the order in which files are given changes nothing', () => {
    assertLaw(
      30,
      fc.property(arbitraryFaultyFiles, (files) => {
        const reversed = Object.fromEntries(Object.entries(files).reverse());
        expect(describeSnapshot(snapshotOf(reversed), files)).toEqual(describeSnapshot(snapshotOf(files), files));
      }),
    );
  });

  it('a record whose edit touches only notes or comments stays the same object', () => {
    // A note that is no text is a fault, but no less a note.
    const notes = fc.array(fc.constantFrom(undefined, 'Other words.', 'Two\nlines', 2012, ['a']), { minLength: 1 });
    const comments = fc.array(fc.nat(), { minLength: 1, maxLength: 12 });
    assertLaw(
      60,
      fc.property(arbitraryBase, arbitraryLayout, notes, comments, (base, layout, words, marks) => {
        const before = snapshotOf(writeFiles(base, layout));
        const texts = writeFiles(withNotes(base, words), { ...layout, comments: marks });
        const files = Object.entries(withoutConfig(texts)).map(([path, text]) => ({ path, file: fileOf(path, text) }));
        const after = before.with(files);
        const records = allRecords(after);
        expect(records).toHaveLength(recordsOf(base).length);
        for (const record of records) expect(before.find(record.kind, record.id) === record, record.id).toBe(true);
        const results = ruleResults(before);
        for (const [position, result] of ruleResults(after).entries()) expect(results[position] === result).toBe(true);
      }),
    );
  });
});

/** The base with other notes: these in turn, none where one is undefined. */
function withNotes(base: PlainBase, words: readonly unknown[]): PlainBase {
  return recordsOf(base).reduce((edited, { notes: _, ...rest }, position) => {
    const notes = words[position % words.length];
    return replaceRecord(edited, (notes === undefined ? rest : { ...rest, notes }) as PlainRecord);
  }, base);
}
