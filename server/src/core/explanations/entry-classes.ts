/**
 * The entries that conditions are made of, those that divide some swaps alike put together.
 *
 * Candidates are `rom_travels`, `same` and `different` of every comparable key, and of either side the values of what a board carries
 * (`board`, `rev` and the parts of a revision). Other values are left out: most stand on one drive only, and would explain its outcome
 * whatever it was.
 */
import { comparableKeys } from '../../../../schemas/gen/key-table.ts';
import { cellOf, revisionKeys } from '../conditions/cell.ts';
import { evaluateAtom } from '../conditions/evaluate.ts';
import type { Swap } from '../conditions/swap.ts';
import type { Entry } from './entry.ts';
import { isProxyKey, proxyKeys } from './proxy-keys.ts';

/** A swap, made or not. */
export interface ComparedSwap {
  readonly swap: Swap;
  /** The pair's name, the same whichever way round. */
  readonly pair: string;
}

/** What a condition says of each swap: 1 holds, -1 does not, 0 not known. */
export type Truths = Int8Array;

/** Entries that say the same of every swap. */
export interface EntryClass {
  readonly truths: Truths;
  /** At least one; the one that names the class first. */
  readonly entries: readonly [Entry, ...Entry[]];
}

/** The classes that hold on some swaps and not on others, in the order of their first entries. */
export function entryClasses(swaps: readonly ComparedSwap[]): readonly EntryClass[] {
  const classes = new Map<string, { readonly truths: Truths; readonly entries: [Entry, ...Entry[]] }>();
  for (const atom of candidateAtoms(swaps.map(({ swap }) => swap))) {
    const truths = Int8Array.from(swaps, ({ swap }) => {
      const truth = evaluateAtom(atom, swap);
      return truth === undefined ? 0 : truth ? 1 : -1;
    });
    if (!divides(truths) || (atom.test === 'side' && isOfOnePair(truths, swaps))) continue;
    const { name, isFlipped } = partitionName(truths);
    const known = classes.get(name);
    if (!known) {
      classes.set(name, { truths, entries: [{ atom, wanted: true }] });
      continue;
    }
    known.entries.push({ atom, wanted: partitionName(known.truths).isFlipped === isFlipped });
  }
  return [...classes.values()];
}

/** Whether a condition holds on some swaps and does not on others. */
export function divides(truths: Truths): boolean {
  return truths.includes(1) && truths.includes(-1);
}

/** A text that is equal for conditions that divide swaps alike, whichever part is the one where they hold. */
export function partitionName(truths: Truths): { readonly name: string; readonly isFlipped: boolean } {
  const sign = truths.find((truth) => truth !== 0) ?? 1;
  let name = '';
  // Ten values of three fit one letter.
  for (let start = 0; start < truths.length; start += 10) {
    let code = 0;
    const end = Math.min(truths.length, start + 10);
    for (let n = start; n < end; n++) code = 3 * code + 1 + sign * (truths[n] ?? 0);
    name += String.fromCharCode(code);
  }
  return { name, isFlipped: sign === -1 };
}

/** What conditions about some swaps are made of. */
export function candidateAtoms(swaps: readonly Swap[]): readonly Entry['atom'][] {
  return [
    { test: 'rom_travels' },
    // Of a class, what may only stand for something else is no name.
    ...[...comparableKeys.filter((key) => !isProxyKey(key)), ...proxyKeys].map(
      (key) => ({ test: 'same', key }) as const,
    ),
    ...(['patient', 'donor'] as const).flatMap((side) =>
      (['board', 'rev', ...revisionKeys] as const).flatMap((key) => {
        const values = new Set(swaps.flatMap((swap) => valueOn(swap, side, key)));
        const sorted = [...values].sort();
        return sorted.map((value) => ({ test: 'side', side, key, accepts: { anyOf: [value] } }) as const);
      }),
    ),
  ];
}

type BoardKey = 'board' | 'rev' | (typeof revisionKeys)[number];

/** The value as conditions write it; a revision with its board. */
function valueOn(swap: Swap, side: 'patient' | 'donor', key: BoardKey): (string | number | boolean)[] {
  const cell = cellOf(swap[side], key);
  if (cell.state !== 'known') return [];
  if (key !== 'rev') return [cell.value];
  const board = cellOf(swap[side], 'board');
  return board.state === 'known' ? [`${board.value}/${cell.value}`] : [];
}

/** Whether a condition holds on one pair only, or on all but one. */
function isOfOnePair(truths: Truths, swaps: readonly ComparedSwap[]): boolean {
  return [1, -1].some((wanted) => new Set(swaps.flatMap(({ pair }, n) => (truths[n] === wanted ? pair : []))).size < 2);
}
