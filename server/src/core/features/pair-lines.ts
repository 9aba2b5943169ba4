import type { Snapshot } from '../index/snapshot.ts';
import { type PairGroup, splitPairs } from '../odds/split-pairs.ts';
import { rounded } from '../text/rounded.ts';
import { evidenceByFamily } from '../verdicts/evidence-by-family.ts';
import { comparableAt } from './comparable-at.ts';
import { familyLens } from './family-lens.ts';
import { type Phrase, phrase } from './hover-blocks.ts';
import type { HoverContext } from './hover-context.ts';
import { romWords } from './rom-words.ts';

/** How pairs with an equal value fared beside those with different ones; under what decides whether the ROM travels, a family's odds. */
export function pairLines(context: HoverContext, families: readonly string[]): readonly Phrase[] {
  const { row, file } = context;
  if (romKeys.has(row.name)) return families.flatMap((family) => oddsLine(family, file.snapshot));
  const key = comparableAt(context);
  if (key === undefined || key === 'family') return [];
  return families.flatMap((family) => {
    const groups = splitPairs(family, key, file.snapshot);
    const line = (travels: boolean): readonly Phrase[] => {
      const rom = romWords(file.snapshot.find('family', family), travels);
      const begin = phrase`In ${family}${[rom === '' ? '' : `, ${rom}`]}: `;
      return agreement(
        begin,
        key,
        groups.filter(({ romTravels }) => romTravels === travels),
      );
    };
    return families.length === 1 ? [...line(true), ...line(false)] : line(true);
  });
}

/** Keys that decide whether the ROM travels. */
const romKeys: ReadonlySet<string> = new Set([
  'rom',
  'rom_from',
  'rom_proved',
  'rom_travels',
  'adaptives',
  'stored_in',
]);

function agreement(begin: Phrase, key: string, groups: readonly PairGroup[]): readonly Phrase[] {
  const [first, second] = groups;
  if (!first) return [];
  const worked = phrase`${votesIn(first)} with ${[first.isSame ? 'equal' : 'different']} ${key} worked`;
  return [[...begin, ...worked, second ? `, ${shareIn(second)} with different ones.` : '.']];
}

/** The odds of a family; nothing where it is not recorded or has no outcome. */
export function oddsLine(id: string, snapshot: Snapshot): readonly Phrase[] {
  const family = snapshot.find('family', id);
  if (!family || !evidenceByFamily(snapshot).has(id)) return [];
  return [phrase`In ${id}${[` · ${familyLens(family, snapshot).text}`]}.`];
}

function votesIn(group: PairGroup): Phrase {
  return [`${shareIn(group)} controlled ${group.pairs === 1 ? 'pair' : 'pairs'}`];
}

function shareIn({ votes, pairs }: PairGroup): string {
  return `${rounded(votes, 1)} of ${pairs}`;
}
