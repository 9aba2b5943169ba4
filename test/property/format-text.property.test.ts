import fc from 'fast-check';
import { loadAll } from 'js-yaml';
import { afterAll, describe, expect, it } from 'vitest';
import { CST, Lexer } from 'yaml';
import { formatText, readsTheSame } from '../../server/src/core/edits/format-text.ts';
import { proposeFormat } from '../../server/src/core/edits/propose-format.ts';
import { replaceIn, type TextEdit } from '../../server/src/core/edits/text-edit.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import type { Span } from '../../server/src/core/syntax/tape.ts';
import { readsAlike } from '../harness/agreeing-readers.ts';
import { arbitraryDamage, damageText } from '../harness/arbitrary-damage.ts';
import { laidOutYaml } from '../harness/arbitrary-laid-out-yaml.ts';
import { messyYaml } from '../harness/arbitrary-messy-yaml.ts';
import { spoiltYaml, tidyYaml, wildYaml } from '../harness/arbitrary-yaml.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { readFixtures } from '../harness/fixtures.ts';

const anyYaml = fc.oneof(
  { weight: 6, arbitrary: messyYaml },
  { weight: 2, arbitrary: laidOutYaml },
  ...[tidyYaml, wildYaml, spoiltYaml].map((arbitrary) => ({ weight: 1, arbitrary })),
);

/** Every text of the project, then so many generated ones. */
function overTexts(runs: number, holds: (text: string) => void): void {
  for (const { text } of readFixtures()) holds(text);
  assertLaw(runs, fc.property(anyYaml, holds));
}

/** Edits of whole texts: the laws ask about the same ones. */
const known = new Map<string, readonly TextEdit[]>();
afterAll(() => known.clear());

function editsOf(text: string, span?: Span): readonly TextEdit[] {
  if (span) return formatText(readText(text).tape, span);
  const edits = known.get(text) ?? formatText(readText(text).tape, { start: 0, end: text.length });
  known.set(text, edits);
  return edits;
}

function formatted(text: string, span?: Span): string {
  return replaceIn(text, editsOf(text, span));
}

/** What another reader makes of a text; undefined where that refuses it. */
function loaded(text: string): { readonly documents: unknown } | undefined {
  try {
    return { documents: loadAll(text) };
  } catch {
    return undefined;
  }
}

function commentsOf(text: string): readonly string[] {
  return [...new Lexer().lex(text)]
    .filter((lexeme) => CST.tokenType(lexeme) === 'comment')
    .map((lexeme) => lexeme.trimEnd());
}

/** Quoted texts as typed and block texts as read, each with its header. Of further lines of quoted texts the indent is left out. */
function enclosedIn(text: string): readonly string[] {
  return readText(text).tape.entries.flatMap(({ kind, start, end, text: words }) => {
    const typed = text.slice(start, end);
    if (kind === 'quoted') return [typed.replaceAll(/\n +(?=\S)/g, '\n')];
    return kind === 'block' ? [typed.slice(0, typed.search(/\s*(?:\n|$)/)), words] : [];
  });
}

const lineBreaksIn = (text: string): ReadonlySet<string> => new Set(text.match(/\r\n|\n|\r/g));

/** Sound documents of a text, each alone. */
function soundDocuments(text: string): readonly string[] {
  return text
    .split(/(?<=\n)(?=---(?!\S))/)
    .filter((piece) => !/\r(?!\n)/.test(piece))
    .filter((piece) => {
      const { tape, faults } = readText(piece);
      const kind = tape.entries[tape.documents[0]?.root ?? -1]?.kind;
      return faults.length === 0 && tape.documents.length === 1 && (kind === 'map' || kind === 'list');
    });
}

const lineStartIn = (text: string, offset: number): number => text.slice(0, offset).lastIndexOf('\n') + 1;

/** A stretch of a text, from shares of its length in thousandths. */
const arbitraryShares = fc.tuple(fc.nat(1000), fc.nat(1000)).map((shares) => shares.sort((a, b) => a - b));

function spanIn(text: string, [from = 0, to = 0]: readonly number[]): Span {
  return { start: Math.floor((text.length * from) / 1000), end: Math.floor((text.length * to) / 1000) };
}

describe('format text', () => {
  it('formatting twice is formatting once', () => {
    let changed = 0;
    overTexts(5000, (text) => {
      const once = formatted(text);
      if (once !== text) changed++;
      expect(formatted(once), text).toBe(once);
    });
    expectOften(changed, 2000);
  });

  it('values and comments stay', () => {
    let compared = 0;
    overTexts(5000, (text) => {
      const after = formatted(text);
      if (after === text) return;
      expect(commentsOf(after), text).toEqual(commentsOf(text));
      readsAlike(after);
      const before = loaded(text);
      if (!before) return;
      compared++;
      expect(loaded(after), text).toEqual(before);
    });
    expectOften(compared, 1000);
  });

  it('text inside quoted and block texts stays byte for byte', () => {
    overTexts(2000, (text) => {
      const after = formatted(text);
      if (after !== text) expect(enclosedIn(after), text).toEqual(enclosedIn(text));
    });
  });

  it('line endings stay', () => {
    overTexts(2000, (text) => {
      const [before, after] = [lineBreaksIn(text), lineBreaksIn(formatted(text))];
      if (before.size > 0) expect([...after].filter((found) => !before.has(found))).toEqual([]);
    });
  });

  it('a range changes nothing outside it', () => {
    let changed = 0;
    assertLaw(
      5000,
      fc.property(anyYaml, arbitraryShares, (text, shares) => {
        const span = spanIn(text, shares);
        const first = lineStartIn(text, span.start);
        const lineEnd = text.indexOf('\n', span.end);
        const isWhole = span.end > span.start && text.charAt(span.end - 1) === '\n';
        const last = isWhole ? span.end : lineEnd < 0 ? text.length : lineEnd + 1;
        const edits = editsOf(text, span);
        if (edits.length > 0) changed++;
        expect(edits.filter(({ start, end }) => start < first || end > last)).toEqual([]);
        const [before, after] = [loaded(text), loaded(replaceIn(text, edits))];
        if (before) expect(after).toEqual(before);
      }),
    );
    expectOften(changed, 1500);
  });

  it('no proposed layout has to be taken back', () => {
    let proposed = 0;
    const holds = (text: string, shares: readonly number[]): void => {
      for (const piece of soundDocuments(text)) {
        const { tape } = readText(piece);
        const { start, end } = spanIn(piece, shares);
        const span = {
          start: lineStartIn(piece, start),
          end: piece.indexOf('\n', end) + 1 || piece.length,
        };
        const edits = proposeFormat({ tape, span, lineBreak: '\n' }) ?? [];
        if (edits.length > 0) proposed++;
        expect(readsTheSame(tape, replaceIn(piece, edits)), piece).toBe(true);
      }
      // Nor do documents that are well each by itself spoil one another.
      if (readText(text).faults.length > 0 || /\r(?!\n)/.test(text)) return;
      const pieces = text.split(/(?<=\n)(?=---(?!\S))/);
      expect(editsOf(text).length, text).toBe(pieces.map((piece) => editsOf(piece).length).reduce((a, b) => a + b, 0));
    };
    for (const { text } of readFixtures()) holds(text, [0, 1000]);
    assertLaw(5000, fc.property(anyYaml, fc.oneof(fc.constant([0, 1000]), arbitraryShares), holds));
    expectOften(proposed, 3000);
  });

  it('edits are sorted, apart from one another and within the text', () => {
    overTexts(2000, (text) => {
      let at = 0;
      for (const { start, end, text: put } of editsOf(text)) {
        expect(start).toBeGreaterThanOrEqual(at);
        expect(end).toBeGreaterThanOrEqual(start);
        expect(text.slice(start, end)).not.toBe(put);
        at = end;
      }
      expect(at).toBeLessThanOrEqual(text.length);
    });
  });

  it('never throws on damaged text', () => {
    assertLaw(
      3000,
      fc.property(anyYaml, arbitraryDamage, arbitraryShares, (text, damage, shares) => {
        const damaged = damageText(text, damage);
        const once = formatted(damaged);
        expect(formatted(once), damaged).toBe(once);
        expect(() => editsOf(damaged, spanIn(damaged, shares))).not.toThrow();
      }),
    );
  });
});
