import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hoverAt } from '../../server/src/core/features/hover.ts';
import type { Hover, HoverBlock } from '../../server/src/core/features/hover-blocks.ts';
import type { OpenFile } from '../../server/src/core/features/open-file.ts';
import { hoverMarkdown, hoverPlainText } from '../../server/src/core/features/render-hover.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { arbitraryFaultyFiles } from '../harness/arbitrary-faulty-files.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { readFixtures } from '../harness/fixtures.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';

/** Files of a base, some damaged, one of them cut off, and where in it to look. */
const arbitraryLook = fc.record({
  files: fc.oneof(
    arbitraryFaultyFiles,
    fc.constantFrom(...readFixtures()).map(({ text }) => ({ 'swaplore.yaml': 'swaplore: 1\n', 'a.yaml': text })),
  ),
  which: fc.nat(),
  cut: fc.option(fc.nat(), { freq: 3 }),
  isIndexed: fc.boolean(),
});

interface Opened {
  readonly file: OpenFile;
  readonly text: string;
}

function open({
  files,
  which,
  cut,
  isIndexed,
}: typeof arbitraryLook extends fc.Arbitrary<infer Look> ? Look : never): Opened {
  const paths = Object.keys(files).sort();
  const path = paths[which % paths.length]!;
  const whole = (files as Record<string, string>)[path]!;
  const text = cut === null ? whole : whole.slice(0, cut % (whole.length + 1));
  const snapshot = snapshotOf({ ...files, [path]: text });
  return { file: { path, tape: readText(text).tape, snapshot, isIndexed }, text };
}

/** The hovers at the beginning and the end of all that stands in a file, with where they were asked for. */
function hoversIn({ file }: Opened): { readonly hover: Hover; readonly offset: number }[] {
  const offsets = new Set(file.tape.entries.flatMap((entry) => [entry.keyStart, entry.start, entry.end]));
  return [...offsets].flatMap((offset) => {
    const hover = hoverAt(file, offset);
    return hover ? [{ hover, offset }] : [];
  });
}

/** Verdicts rest on counter-proofs that may not have been read yet. */
function isVerdict({ facts }: Extract<HoverBlock, { kind: 'facts' }>): boolean {
  return facts.some(({ label }) => label.startsWith('At `'));
}

describe('hover', () => {
  it('no offset of any text, whole or damaged, makes it throw', () => {
    let seen = 0;
    assertLaw(
      200,
      fc.property(arbitraryLook, fc.nat(), (look, at) => {
        const opened = open(look);
        hoverAt(opened.file, at % (opened.text.length + 1));
        for (const { hover } of hoversIn(opened)) {
          hoverMarkdown(hover, (path) => path);
          hoverPlainText(hover);
          seen++;
        }
      }),
    );
    expectOften(seen, 1000);
  });

  it('a hover begins with a title, and the offset lies within it', () => {
    assertLaw(
      100,
      fc.property(arbitraryLook, (look) => {
        for (const { hover, offset } of hoversIn(open(look))) {
          expect(hover.blocks[0]!.kind).toBe('title');
          expect(hover.start).toBeLessThanOrEqual(offset);
          expect(hover.end).toBeGreaterThanOrEqual(offset);
        }
      }),
    );
  });

  it('nothing is said of the base before it is indexed', () => {
    let seen = 0;
    assertLaw(
      100,
      fc.property(arbitraryLook, (look) => {
        for (const isIndexed of [true, false]) {
          for (const { hover } of hoversIn(open({ ...look, isIndexed }))) {
            const says = hover.blocks.some(
              (block) => block.kind === 'base' || (block.kind === 'facts' && isVerdict(block)),
            );
            if (isIndexed && says) seen++;
            if (!isIndexed) expect(says).toBe(false);
          }
        }
      }),
    );
    expectOften(seen, 100);
  });
});
