import fc from 'fast-check';
import { configPath } from '../../server/src/core/checks/config-invalid.ts';
import { type Kind, kinds } from '../../server/src/core/terms/kinds.ts';
import { arbitraryBase, type PlainRecord } from './arbitrary-base.ts';
import { arbitraryDamage, type Damage, damageText } from './arbitrary-damage.ts';
import { arbitraryFaultyFiles } from './arbitrary-faulty-files.ts';
import { replaceRecord } from './open-slots.ts';
import { arbitraryLayout, writeFiles } from './write-files.ts';

/** The files of a base, and of that base after each of several edits. The config stays as it is. */
export type Walk = readonly [Texts, ...Texts[]];

type Texts = Readonly<Record<string, string>>;

/** What happens to one file: it goes, gets the text of some file of either base, or is damaged. Numbers choose by their remainder. */
interface FileEdit {
  readonly path: number;
  readonly how: { readonly text: number } | { readonly damage: readonly Damage[] } | undefined;
}

const arbitraryFileEdit: fc.Arbitrary<FileEdit> = fc.record({
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

/** Walks over whole files, which come, go and break. */
export function arbitraryFileWalk(edits: fc.ArrayConstraints): fc.Arbitrary<Walk> {
  const inputs = fc.tuple(arbitraryFaultyFiles, arbitraryFaultyFiles, fc.array(arbitraryFileEdit, edits));
  return inputs.map(([start, other, steps]) => {
    const pool = [...Object.values(withoutConfig(start)), ...Object.values(withoutConfig(other))];
    const paths = Object.keys(withoutConfig({ ...start, ...other }));
    const walk: [Texts, ...Texts[]] = [start];
    for (const { path: pick, how } of steps) {
      const path = paths[pick % paths.length]!;
      const { [path]: old = '', ...others } = walk.at(-1)!;
      if (!how) walk.push(others);
      else
        walk.push({ ...others, [path]: 'text' in how ? pool[how.text % pool.length]! : damageText(old, how.damage) });
    }
    return walk;
  });
}

/** Walks over single records, from one base in the direction of another. */
export function arbitraryRecordWalk(edits: fc.ArrayConstraints, bases = arbitraryBase): fc.Arbitrary<Walk> {
  const steps = fc.array(arbitraryRecordEdit, edits);
  return fc.tuple(bases, bases, arbitraryLayout, steps).map(([start, other, layout, all]) => {
    let base = start;
    const walk: [Texts, ...Texts[]] = [writeFiles(base, layout)];
    for (const { kind, pick, isSpoilt } of all) {
      const records: readonly PlainRecord[] = base[kind];
      const others: readonly PlainRecord[] = other[kind];
      const record = records[pick % records.length]!;
      const replaced = others.find(({ id }) => id === record.id) ?? record;
      base = replaceRecord(base, isSpoilt ? spoil(record, pick) : replaced);
      walk.push(writeFiles(base, layout));
    }
    return walk;
  });
}

/** The paths whose text differs, the config's left out. */
export function editedPaths(before: Texts, after: Texts): string[] {
  const paths = new Set([...Object.keys(before), ...Object.keys(after)]);
  return [...paths].filter((path) => path !== configPath && before[path] !== after[path]);
}

/** All files but the config. */
export function withoutConfig({ [configPath]: _, ...files }: Texts): Texts {
  return files;
}
