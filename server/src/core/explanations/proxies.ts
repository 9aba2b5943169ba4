import type { ComparableKey } from '../../../../schemas/gen/key-table.ts';
import type { Entry } from './entry.ts';
import type { EntryClass } from './entry-classes.ts';
import type { Conjunction } from './partitions.ts';

/**
 * Keys that say nothing of a donor's board itself. Where the patient's own ROM came along, its heads and platters are not what the
 * board was made for, and these keys can only stand for a variant of the board that nobody recorded. Source: common practice, no source.
 */
export const proxyKeys = ['site', 'heads', 'head_map', 'head_stack_code', 'preamp'] as const satisfies ComparableKey[];

/** Whether a key can only stand for a variant of the board. */
export function isProxyKey(key: ComparableKey): boolean {
  return proxyKeys.some((proxy) => proxy === key);
}

/** Whether a condition rests on proxies; `everyRomTravelled` says whether in all decided outcomes the ROM travelled. */
export function restsOnProxy({ terms }: Conjunction, everyRomTravelled: boolean): boolean {
  const travels = everyRomTravelled || terms.some(({ of, wanted }) => romIn(of)?.wanted === wanted);
  return travels && terms.some(({ of }) => of.entries.every(isProxy));
}

function romIn({ entries }: EntryClass): Entry | undefined {
  return entries.find(({ atom }) => atom.test === 'rom_travels');
}

function isProxy({ atom }: Entry): boolean {
  return atom.test === 'same' && isProxyKey(atom.key);
}
