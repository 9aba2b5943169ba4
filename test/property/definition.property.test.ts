import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { definitionAt } from '../../server/src/core/features/definition.ts';
import { mentionsOf } from '../../server/src/core/features/mentions.ts';
import { arbitraryFaultyFiles } from '../harness/arbitrary-faulty-files.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { openAll, spanOfPlace } from '../harness/open-all.ts';

describe('definition', () => {
  it('every reference to a record leads to its id, and that id to itself', () => {
    let seen = 0;
    assertLaw(
      60,
      fc.property(arbitraryFaultyFiles, (texts) => {
        const files = openAll(texts);
        for (const file of files.values()) {
          for (const { kind, id, rev, start } of mentionsOf(file.tape)) {
            const standings = rev === undefined ? file.snapshot.standings(kind, id) : [];
            const isAlias = file.tape.text.charAt(start) === '*';
            if (standings.length === 0 || isAlias) continue;
            const [first] = definitionAt(file, start)!.places;
            expect(first).toMatchObject({ file: standings[0]!.file.path, target: { path: ['id'], side: 'value' } });
            const there = definitionAt(files.get(first!.file)!, spanOfPlace(first!, files).start);
            expect(there!.places).toContainEqual(first);
            seen++;
          }
        }
      }),
    );
    expectOften(seen, 1000);
  });

  it('no offset of any text, whole or damaged, makes it throw', () => {
    assertLaw(
      100,
      fc.property(arbitraryFaultyFiles, fc.nat(), (texts, at) => {
        for (const file of openAll(texts).values()) definitionAt(file, at % (file.tape.text.length + 1));
      }),
    );
  });
});
