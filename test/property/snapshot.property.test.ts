import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { configPath } from '../../server/src/core/checks/config-invalid.ts';
import { type BaseFile, Snapshot } from '../../server/src/core/index/snapshot.ts';
import { ruleResults } from '../../server/src/core/reasoning/rule-results.ts';
import { type Kind, kinds } from '../../server/src/core/terms/kinds.ts';
import { arbitraryBase, type PlainBase, type PlainRecord, recordsOf } from '../harness/arbitrary-base.ts';
import { arbitraryDamage, type Damage, damageText } from '../harness/arbitrary-damage.ts';
import { arbitraryFaultyFiles } from '../harness/arbitrary-faulty-files.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { allRecords, describeSnapshot } from '../harness/describe-snapshot.ts';
import { replaceRecord } from '../harness/open-slots.ts';
import { configFileOf, fileOf, snapshotOf } from '../harness/snapshot-of.ts';
import { arbitraryLayout, writeFiles } from '../harness/write-files.ts';

type Texts = Readonly<Record<string, string>>;

/** What happens to one file: it goes, gets the text of some file of either base, or is damaged. Numbers choose by their remainder. */
interface Edit {
  readonly path: number;
  readonly how: { readonly text: number } | { readonly damage: readonly Damage[] } | undefined;
}

const arbitraryEdit: fc.Arbitrary<Edit> = fc.record({
  path: fc.nat(),
  how: fc.oneof(
    { weight: 1, arbitrary: fc.constant(undefined) },
    { weight: 2, arbitrary: fc.nat().map((text) => ({ text })) },
    { weight: 1, arbitrary: arbitraryDamage.map((damage) => ({ damage })) },
  ),
});

/** What happens to one record: it becomes what it is in another base, or one of its telling keys comes, goes, or cannot be read. */
const arbitraryRecordEdit = fc.record({
  kind: fc.constantFrom(...kinds, 'outcome' as const, 'outcome' as const, 'drive' as const),
  pick: fc.nat(),
  isSpoilt: fc.boolean(),
});

/** Keys whose absence says something definite, by kind: one that cannot be read must not be taken for absent. */
const tellingKeys: Readonly<Record<Kind, readonly string[]>> = {
  maker: ['retracted', 'name'],
  family: ['host_needs', 'adaptives', 'maker'],
  board: ['revisions', 'retracted'],
  drive: ['board', 'made', 'family'],
  outcome: ['controls', 'rom_from', 'rom', 'retracted', 'reached', 'patient'],
  rule: ['exceptions', 'at_least', 'stage', 'applies_to', 'retracted', 'when'],
};

/** The record without a telling key, or with a value under it that no schema allows. */
function spoil(record: PlainRecord, pick: number): PlainRecord {
  const keys = tellingKeys[record.kind];
  const { [keys[pick % keys.length]!]: value, ...others }: Readonly<Record<string, unknown>> = { ...record };
  return { ...others, ...(value === undefined ? { [keys[pick % keys.length]!]: 7 } : {}) } as unknown as PlainRecord;
}

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

function expectFresh(snapshot: Snapshot, texts: Texts): void {
  expect(describeSnapshot(snapshot, texts)).toEqual(describeSnapshot(snapshotOf(texts), texts));
}

function withoutConfig({ [configPath]: _, ...files }: Texts): Texts {
  return files;
}

describe('snapshot', () => {
  it('a snapshot with edits equals a fresh snapshot of the edited files', () => {
    const steps = fc.array(fc.array(arbitraryEdit, { minLength: 1, maxLength: 3 }), { minLength: 1, maxLength: 3 });
    assertLaw(
      20,
      fc.property(arbitraryFaultyFiles, arbitraryFaultyFiles, steps, fc.boolean(), (before, other, batches, keeps) => {
        const read = makeReader(keeps);
        const { [configPath]: config = '' } = before;
        const pool = [...Object.values(withoutConfig(before)), ...Object.values(withoutConfig(other))];
        const paths = Object.keys(withoutConfig({ ...before, ...other }));
        let texts = before;
        const files = Object.entries(withoutConfig(texts)).map(([path, text]) => read(path, text));
        const first = Snapshot.of(configFileOf(config), files);
        let snapshot = first;
        expectFresh(first, before);
        for (const edits of batches) {
          const changes = edits.map(({ path: pick, how }) => {
            const path = paths[pick % paths.length]!;
            const { [path]: old = '', ...others } = texts;
            if (!how) {
              texts = others;
              return { path, file: undefined };
            }
            const text = 'text' in how ? pool[how.text % pool.length]! : damageText(old, how.damage);
            texts = { ...others, [path]: text };
            return { path, file: read(path, text) };
          });
          snapshot = snapshot.with(changes);
          expectFresh(snapshot, texts);
        }
        // What came later changed nothing in the one it came from.
        expectFresh(first, before);
      }),
    );
    const recordEdits = fc.array(arbitraryRecordEdit, { minLength: 1, maxLength: 8 });
    assertLaw(
      60,
      fc.property(arbitraryBase, arbitraryBase, arbitraryLayout, recordEdits, (start, other, layout, edits) => {
        let base = start;
        let texts: Texts = writeFiles(base, layout);
        let snapshot = snapshotOf(texts);
        ruleResults(snapshot);
        for (const { kind, pick, isSpoilt } of edits) {
          const records: readonly PlainRecord[] = base[kind];
          const others: readonly PlainRecord[] = other[kind];
          const record = records[pick % records.length]!;
          const replaced = others.find(({ id }) => id === record.id) ?? record;
          base = replaceRecord(base, isSpoilt ? spoil(record, pick) : replaced);
          const edited = writeFiles(base, layout);
          const changes = Object.entries(edited).filter(([path, text]) => texts[path] !== text && path !== configPath);
          snapshot = snapshot.with(changes.map(([path, text]) => ({ path, file: fileOf(path, text) })));
          texts = edited;
          expectFresh(snapshot, texts);
        }
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
