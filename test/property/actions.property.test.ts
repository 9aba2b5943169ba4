import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { readFixtures } from '../harness/fixtures.ts';
import { mendableBench } from '../harness/mendable-bench.ts';
import { filledIn, offeredActions } from '../harness/offered-actions.ts';

const texts = readFixtures().map(({ text }) => text);
const words = fc.constantFrom('wet', 'wet, and warm', 'ends: here', '# 7', '');

/** A base with one text of any sort in it, maybe with some lines taken out, and an offset of that. */
const arbitraryPlace = fc
  .tuple(fc.constantFrom(...texts, ...Object.values(mendableBench)), fc.array(fc.nat(), { maxLength: 3 }), fc.nat())
  .map(([whole, gone, pick]) => {
    const lines = whole.split('\n');
    for (const position of gone) lines.splice(position % lines.length, 1);
    const text = lines.join('\n').replaceAll('$', '');
    const offset = pick % (text.length + 1);
    return { ...mendableBench, 'more/here.yaml': `${text.slice(0, offset)}$0${text.slice(offset)}` };
  });

describe('actions', () => {
  it('what is offered changes something and reads without a new fault, whatever words are filled in', () => {
    const seen = new Map<string, number>();
    assertLaw(
      900,
      fc.property(arbitraryPlace, words, fc.boolean(), (files, word, isAsked) => {
        const only = isAsked ? new Set(['quick-fix', 'refactor', 'fix-all'] as const) : undefined;
        for (const { title, files: edited, isSure, after } of offeredActions(files, { only })) {
          const [name = ''] = /^(?:Add what|\S+)/.exec(title) ?? [];
          seen.set(name, (seen.get(name) ?? 0) + 1);
          expect(edited.some(({ edits }) => edits.length > 0)).toBe(true);
          expect(isSure && edited.some(({ isSnippet }) => isSnippet)).toBe(false);
          for (const { file, isSnippet, isNew } of edited) {
            const text = after[isNew ? `${file} (new)` : file] ?? '';
            const before = isNew ? '' : (files as Readonly<Record<string, string>>)[file]!.replace('$0', '');
            const faults = readText(isSnippet ? filledIn(text, word) : text).faults.length;
            // A word that is no word is only safe between quotes.
            if (!isSnippet || /^\w*$/.test(word) || !/[^"]\$\d/.test(text)) {
              expect(faults).toBeLessThanOrEqual(readText(before).faults.length);
            }
          }
        }
      }),
    );
    for (const name of ['Add what', 'Record', 'Retract', 'Sort', 'Except']) expect(seen.get(name)).toBeGreaterThan(3);
  });
});
