import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { EditableText } from '../../server/src/core/edits/plan-edits.ts';
import { isRefusal, replaceIn } from '../../server/src/core/edits/text-edit.ts';
import { filesNaming, type RecordName, renameId } from '../../server/src/core/features/rename-id.ts';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { type AnyRecord, nameOf } from '../../server/src/core/model/record.ts';
import { referencesIn } from '../../server/src/core/schema/references.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { contentIdOf } from '../../server/src/host/content-id.ts';
import { arbitraryBase } from '../harness/arbitrary-base.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { readFixtures } from '../harness/fixtures.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';
import { arbitraryLayout, writeFiles } from '../harness/write-files.ts';

type Files = Readonly<Record<string, string>>;

function renamed(files: Files, name: RecordName, newId: string): Files | undefined {
  const snapshot = snapshotOf(files);
  const edits = renameId({ snapshot, ...name, newId, texts: textsOf(files, filesNaming(snapshot, name)) });
  if (isRefusal(edits)) return undefined;
  return { ...files, ...Object.fromEntries(edits.map(({ file, edits: of }) => [file, replaceIn(files[file]!, of)])) };
}

function textsOf(files: Files, paths: readonly string[]): ReadonlyMap<string, EditableText> {
  return new Map(
    paths.map((path) => {
      const text = files[path]!;
      return [path, { tape: readText(text).tape, contentId: contentIdOf(new TextEncoder().encode(text)) }];
    }),
  );
}

/** The references of every record, each as text, with the record that holds it. */
function referencesOf(snapshot: Snapshot, nameIn: (record: AnyRecord) => string): string[] {
  return [...snapshot.allRecords()]
    .flatMap((record) =>
      referencesIn(record.kind, record.data).map(
        ({ refersTo, id, path }) => `${nameIn(record)} ${path.join('.')}: ${refersTo} ${id}`,
      ),
    )
    .sort();
}

const recorded = ['knowledge/', 'test/fixtures/faults/saltmarket/', 'test/fixtures/tour/'].map((folder) =>
  Object.fromEntries(
    readFixtures().flatMap(({ name, text }) =>
      name.startsWith(folder) ? [[name.slice(folder.length), text] as const] : [],
    ),
  ),
);

const arbitraryFiles: fc.Arbitrary<Files> = fc.oneof(
  { weight: 19, arbitrary: fc.tuple(arbitraryBase, arbitraryLayout).map(([base, layout]) => writeFiles(base, layout)) },
  { weight: 1, arbitrary: fc.constantFrom(...recorded) },
);

/** A base and one of its records. */
const arbitraryRename = fc.tuple(arbitraryFiles, fc.nat()).map(([files, pick]) => {
  const records = [...snapshotOf(files).allRecords()];
  return { files, record: records[pick % Math.max(records.length, 1)] };
});

describe('rename id', () => {
  it('after a rename the record is found under its new id and every reference to it leads there', () => {
    let count = 0;
    assertLaw(
      120,
      fc.property(arbitraryRename, ({ files, record }) => {
        const after = record && renamed(files, record, 'new-1');
        if (!after) return;
        count++;
        const [before, now] = [snapshotOf(files), snapshotOf(after)];
        expect(now.findAny(record.kind, 'new-1')).toMatchObject({ data: expect.anything() });
        expect(now.findAny(record.kind, record.id)).toBeUndefined();
        const own = nameOf(record);
        const isNamed = (line: string): boolean =>
          line.endsWith(`: ${record.kind} ${record.id}`) ||
          (record.kind === 'board' && line.includes(`: revision ${record.id}/`));
        const meant = referencesOf(before, nameOf).map((line) => {
          const moved = line.startsWith(`${own} `) ? `${record.kind}/new-1${line.slice(own.length)}` : line;
          return isNamed(line) ? moved.replace(/(: \w+ )[^/]*/, '$1new-1') : moved;
        });
        expect(referencesOf(now, nameOf)).toEqual(meant.sort());
      }),
    );
    expectOften(count, 90);
  });

  it('a rename changes nothing but ids, and renaming back gives back every text', () => {
    let count = 0;
    assertLaw(
      120,
      fc.property(arbitraryRename, ({ files, record }) => {
        const after = record && renamed(files, record, 'new-1');
        if (!after) return;
        count++;
        // What is taken out and put in is the id alone.
        for (const [path, text] of Object.entries(after)) {
          const pieces = text.split('new-1');
          expect(files[path]!.split(record.id).join('')).toBe(
            pieces.map((piece) => piece.split(record.id).join('')).join(''),
          );
        }
        expect(renamed(after, { kind: record.kind, id: 'new-1' }, record.id)).toEqual(files);
      }),
    );
    expectOften(count, 90);
  });
});
