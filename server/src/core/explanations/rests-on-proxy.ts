import type { Entry } from './entry.ts';
import type { EntryClass } from './entry-classes.ts';
import type { Conjunction } from './partitions.ts';
import { isProxyKey } from './proxy-keys.ts';

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
