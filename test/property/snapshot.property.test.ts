import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { configPath } from '../../server/src/core/checks/config-invalid.ts';
import { type BaseFile, Snapshot } from '../../server/src/core/index/snapshot.ts';
import { ruleResults } from '../../server/src/core/reasoning/rule-results.ts';
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

function withoutConfig({ [configPath]: _, ...files }: Texts): Texts {
  return files;
}

describe('snapshot', () => {
  it('a snapshot with edits equals a fresh snapshot of the edited files', () => {
    const steps = fc.array(fc.array(arbitraryEdit, { minLength: 1, maxLength: 3 }), { minLength: 1, maxLength: 3 });
    assertLaw(
      30,
      fc.property(arbitraryFaultyFiles, arbitraryFaultyFiles, steps, fc.boolean(), (before, other, batches, keeps) => {
        const read = makeReader(keeps);
        const config = before[configPath] ?? '';
        const pool = [...Object.values(withoutConfig(before)), ...Object.values(withoutConfig(other))];
        const paths = Object.keys(withoutConfig({ ...before, ...other }));
        let texts = withoutConfig(before);
        const files = Object.entries(texts).map(([path, text]) => read(path, text));
        let snapshot = Snapshot.of(configFileOf(config), files);
        ruleResults(snapshot);
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
          const all = { ...texts, [configPath]: config };
          expect(describeSnapshot(snapshot, all)).toEqual(describeSnapshot(snapshotOf(all), all));
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
