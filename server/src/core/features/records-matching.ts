/**
 * Records by a few letters of their id.
 * Laws (test/property/records-matching.property.test.ts):
 * - what is found holds the letters of the query in their order, and all that do are found
 * - a record is found first by its own id
 */

import type { Place } from '../checks/finding.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { addTo } from '../terms/grouped.ts';
import { type Kind, kinds } from '../terms/kinds.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import { placeIn } from './record-places.ts';

/** A record that fits a query. */
export interface MatchingRecord<Base> {
  readonly base: Base;
  readonly kind: Kind;
  readonly id: string;
  /** The value of its id; of several records with it, of the one that stands. */
  readonly place: Place;
}

/** How many records a query finds at most: more than anybody reads, and few enough to look up where they stand. */
export const mostMatches = 128;

/** A record that may be among the best. */
interface Candidate<Base> extends Omit<MatchingRecord<Base>, 'place'> {
  readonly rank: number;
}

/**
 * The records of some bases that fit a query best, without regard to case and spaces: the id itself, then ids that begin with it,
 * hold it at the beginning of a word, hold it anywhere, hold its letters in order; shorter ids first. An empty query fits all.
 */
export function recordsMatching<Base extends { readonly snapshot: Snapshot }>(
  query: string,
  bases: readonly Base[],
): readonly MatchingRecord<Base>[] {
  // Sorting is stable: records of one id come base by base, kind by kind.
  return firstOf(candidatesFor(query.replace(/\s+/g, '').toLowerCase(), bases))
    .sort((a, b) => a.rank - b.rank || a.id.length - b.id.length || byCodeUnits(a.id, b.id))
    .slice(0, mostMatches)
    .flatMap(({ base, kind, id }) => {
      const [standing] = base.snapshot.standings(kind, id);
      return standing ? { base, kind, id, place: placeIn(standing, ['id']) } : [];
    });
}

/** What fits, by how well and by length of id: twenty thousand ids take too long to sort for a key press. */
function candidatesFor<Base extends { readonly snapshot: Snapshot }>(
  wanted: string,
  bases: readonly Base[],
): ReadonlyMap<number, readonly Candidate<Base>[]> {
  const groups = new Map<number, Candidate<Base>[]>();
  for (const base of bases) {
    for (const kind of kinds) {
      for (const { id } of base.snapshot.records(kind)) {
        const rank = rankOf(id, wanted);
        if (rank === undefined) continue;
        addTo(groups, rank * lengthsOfRank + Math.min(id.length, lengthsOfRank - 1), { base, kind, id, rank });
      }
    }
  }
  return groups;
}

/** Longer ids share a group; they are told apart when it is sorted. */
const lengthsOfRank = 1000;

/** The best groups, as many as are needed for the most matches. */
function firstOf<Item>(groups: ReadonlyMap<number, readonly Item[]>): Item[] {
  const first: Item[] = [];
  for (const key of [...groups.keys()].sort((a, b) => a - b)) {
    if (first.length >= mostMatches) break;
    for (const item of groups.get(key) ?? []) first.push(item);
  }
  return first;
}

/** How well an id fits, 0 the best; undefined where it does not. */
function rankOf(id: string, wanted: string): number | undefined {
  const at = id.indexOf(wanted);
  if (at === 0) return id.length === wanted.length ? 0 : 1;
  if (at > 0) return isAtWord(id, wanted, at) ? 2 : 3;
  let from = 0;
  for (const letter of wanted) {
    from = id.indexOf(letter, from) + 1;
    if (from === 0) return undefined;
  }
  return 4;
}

/** Whether a word of the id begins with what is wanted; `at` is the first place where that occurs. */
function isAtWord(id: string, wanted: string, at: number): boolean {
  for (let place = at; place > 0; place = id.indexOf(wanted, place + 1)) if (id.charAt(place - 1) === '-') return true;
  return false;
}
