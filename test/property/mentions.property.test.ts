import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { highlightsAt } from '../../server/src/core/features/highlights.ts';
import { mentionAt, mentionsOf } from '../../server/src/core/features/mentions.ts';
import { namesIn } from '../../server/src/core/features/names-in.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { arbitraryFaultyFiles } from '../harness/arbitrary-faulty-files.ts';
import { spoiltYaml } from '../harness/arbitrary-yaml.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { readFixtures } from '../harness/fixtures.ts';
import { openAll } from '../harness/open-all.ts';

const arbitraryText = fc.oneof(fc.constantFrom(...readFixtures().map(({ text }) => text)), spoiltYaml);

describe('mentions', () => {
  it('what a record names is mentioned where it stands', () => {
    let seen = 0;
    assertLaw(
      60,
      fc.property(arbitraryFaultyFiles, (files) => {
        for (const { path, tape, snapshot } of openAll(files).values()) {
          for (const { record, document } of snapshot.files.get(path)!.facts.records) {
            for (const name of namesIn(record)) {
              expect(mentionsOf(tape)).toContainEqual(expect.objectContaining({ ...name, document }));
              seen++;
            }
          }
        }
      }),
    );
    expectOften(seen, 1000);
  });

  it('no text, whole or damaged, makes it throw, and every mention lies within the text', () => {
    assertLaw(
      400,
      fc.property(arbitraryText, fc.nat(), (text, cut) => {
        const whole = text.slice(0, cut % (text.length + 1));
        for (const { start, end } of mentionsOf(readText(whole).tape)) {
          expect([0 <= start, start <= end, end <= whole.length]).toEqual([true, true, true]);
        }
      }),
    );
  });
});

describe('highlights', () => {
  it('the highlights of a name hold the name itself', () => {
    assertLaw(
      60,
      fc.property(arbitraryFaultyFiles, (files) => {
        for (const file of openAll(files).values()) {
          for (const { start } of mentionsOf(file.tape)) {
            const named = mentionAt(file.tape, start)!;
            expect(highlightsAt(file, start).map((mention) => mention.start)).toContain(named.start);
          }
        }
      }),
    );
  });
});
