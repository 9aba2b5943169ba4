import { describe, expect, it } from 'vitest';
import { andAll, not, orAny, type Truth } from '../../server/src/core/conditions/truth.ts';

/** Tables are written with F, U and T; a row is the left side, a column the right side, both in that order. */
const values: readonly Truth[] = [false, undefined, true];

const letterOf = (truth: Truth): string => (truth === undefined ? 'U' : truth ? 'T' : 'F');

const tableOf = (of: (left: Truth, right: Truth) => Truth): string[] =>
  values.map((left) => values.map((right) => letterOf(of(left, right))).join(''));

const implies = (left: Truth, right: Truth): Truth => orAny([not(left), right]);
const iff = (left: Truth, right: Truth): Truth => andAll([implies(left, right), implies(right, left)]);

// Source: Kleene, Introduction to Metamathematics (1952), § 64, strong tables (from memory); the same tables as K3 in
// logic.dougowings.net/doc/logics/k3.html.
describe('strong Kleene tables', () => {
  it('and', () => {
    expect(tableOf((left, right) => andAll([left, right]))).toEqual(['FFF', 'FUU', 'FUT']);
  });

  it('or', () => {
    expect(tableOf((left, right) => orAny([left, right]))).toEqual(['FUT', 'UUT', 'TTT']);
  });

  it('not', () => {
    expect(values.map((value) => letterOf(not(value))).join('')).toBe('TUF');
  });

  it('implies, as not or', () => {
    expect(tableOf(implies)).toEqual(['TTT', 'UUT', 'FUT']);
  });

  it('if and only if, as implies both ways', () => {
    expect(tableOf(iff)).toEqual(['TUF', 'UUU', 'FUT']);
  });

  // Source: Łukasiewicz's three-valued logic of 1920 (from memory): there both would be true.
  it('not those of Łukasiewicz: what is not known does not follow from what is not known', () => {
    expect(implies(undefined, undefined)).toBeUndefined();
    expect(iff(undefined, undefined)).toBeUndefined();
  });

  it('know no tautology and no contradiction', () => {
    expect(orAny([undefined, not(undefined)])).toBeUndefined();
    expect(andAll([undefined, not(undefined)])).toBeUndefined();
  });
});

describe('and, or of any number', () => {
  it('of none', () => {
    expect(andAll([])).toBe(true);
    expect(orAny([])).toBe(false);
  });

  it.each(values.map((value) => [letterOf(value), value] as const))('of %s alone is that', (_, value) => {
    expect(andAll([value])).toBe(value);
    expect(orAny([value])).toBe(value);
  });

  it('of three are the least and the greatest, in whatever order', () => {
    const rank = (truth: Truth): number => values.indexOf(truth);
    for (const a of values) {
      for (const b of values) {
        for (const c of values) {
          const ranks = [a, b, c].map(rank);
          expect(andAll([a, b, c])).toBe(values[Math.min(...ranks)]);
          expect(orAny([a, b, c])).toBe(values[Math.max(...ranks)]);
        }
      }
    }
  });

  it('stop at the first value that decides', () => {
    const seen: Truth[] = [];
    function* say(...truths: Truth[]): Generator<Truth> {
      for (const truth of truths) {
        seen.push(truth);
        yield truth;
      }
    }
    expect(andAll(say(undefined, false, true))).toBe(false);
    expect(orAny(say(undefined, true, false))).toBe(true);
    expect(seen).toEqual([undefined, false, undefined, true]);
  });
});
