import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Place } from '../../server/src/core/checks/finding.ts';
import { mentionsOf } from '../../server/src/core/features/mentions.ts';
import { isSameName } from '../../server/src/core/features/names-in.ts';
import { referencesAt } from '../../server/src/core/features/references.ts';
import { arbitraryFaultyFiles } from '../harness/arbitrary-faulty-files.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { openAll } from '../harness/open-all.ts';

const withDeclaration = false;

/** Places without the text they were read from, as words to compare. */
function wordsOf({ file, target }: Pick<Place, 'file' | 'target'>): string {
  return JSON.stringify([file, target]);
}

describe('references', () => {
  it('the references of what a reference names hold that reference', () => {
    let seen = 0;
    assertLaw(
      30,
      fc.property(arbitraryFaultyFiles, (texts) => {
        for (const file of openAll(texts).values()) {
          for (const { start, document, path, isDeclaration } of mentionsOf(file.tape)) {
            if (isDeclaration || file.tape.text.charAt(start) === '*') continue;
            const found = referencesAt(file, start, { withDeclaration }).map(wordsOf);
            expect(found).toContain(wordsOf({ file: file.path, target: { document, path, side: 'value' } }));
            seen++;
          }
        }
      }),
    );
    expectOften(seen, 500);
  });

  it('every reference found names what was asked for', () => {
    let seen = 0;
    assertLaw(
      30,
      fc.property(arbitraryFaultyFiles, (texts) => {
        const files = openAll(texts);
        for (const file of files.values()) {
          for (const asked of mentionsOf(file.tape)) {
            if (file.tape.text.charAt(asked.start) === '*') continue;
            const places = referencesAt(file, asked.start, { withDeclaration });
            expect(new Set(places.map(wordsOf)).size).toBe(places.length);
            for (const place of places) {
              const there = mentionsOf(files.get(place.file)!.tape).filter(
                ({ document, path, isDeclaration }) =>
                  !isDeclaration &&
                  wordsOf({ file: place.file, target: { document, path, side: 'value' } }) === wordsOf(place),
              );
              expect(there.some((mention) => isSameName(mention, asked))).toBe(true);
              seen++;
            }
          }
        }
      }),
    );
    expectOften(seen, 500);
  });
});
