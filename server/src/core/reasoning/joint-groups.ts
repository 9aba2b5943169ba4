/**
 * Which open pairs have to do with each other.
 * Laws (test/property/joint-groups.property.test.ts):
 * - no two groups share an unknown
 * - after every edit the groups and what came of them are those of a fresh snapshot, and an untouched group stays the same object
 */
import { type Derivation, derive, type Steps } from '../index/derivation.ts';
import { isSameList } from '../index/memo.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { drained } from '../terms/drained.ts';
import { addTo } from '../terms/grouped.ts';
import { type OpenPair, openPairs, openPairsByLaw } from './joint-pairs.ts';
import { withoutLoose } from './loose-pairs.ts';

/** Open pairs that share unknowns, directly or through others; by rule id, then outcome id. */
export interface PairGroup {
  readonly pairs: readonly OpenPair[];
}

/** All pairs that share unknowns, and the groups these fall into once those are left out that can always be met. */
export interface Component extends PairGroup {
  readonly groups: readonly PairGroup[];
}

interface Components {
  readonly all: readonly Component[];
  /** Components and groups by their first pair. */
  readonly byFirst: ReadonlyMap<OpenPair, Component>;
  readonly groups: ReadonlyMap<OpenPair, PairGroup>;
}

/** The components of a base. */
export const components: Derivation<Components> = {
  name: 'joint groups',
  restsOn: [openPairsByLaw],
  compute: (snapshot) => componentsOf(pairsOf(snapshot), undefined),
  update: (value, { before, after }) =>
    openPairs(before) === openPairs(after) ? value : drained(componentsOf(pairsOf(after), value)),
};

/** The components of a base. Each stays the same object for as long as its pairs do, and so does each group. */
export function componentsIn(snapshot: Snapshot): readonly Component[] {
  return derive(components, snapshot).all;
}

function pairsOf(snapshot: Snapshot): OpenPair[] {
  return openPairs(snapshot).flatMap(({ pairs }) => pairs);
}

/** Components between two yields. */
const componentsPerStep = 50;

function* componentsOf(pairs: readonly OpenPair[], old: Components | undefined): Steps<Components> {
  const all: Component[] = [];
  for (const part of splitByLinks(pairs)) {
    const known = part[0] && old?.byFirst.get(part[0]);
    all.push(known && isSameList(known.pairs, part) ? known : toComponent(part, old));
    if (all.length % componentsPerStep === 0) yield;
  }
  return { all, byFirst: byFirstPair(all), groups: byFirstPair(all.flatMap(({ groups }) => groups)) };
}

function toComponent(pairs: readonly OpenPair[], old: Components | undefined): Component {
  const groups = splitByLinks(withoutLoose(pairs)).map((part): PairGroup => {
    const known = part[0] && old?.groups.get(part[0]);
    return known && isSameList(known.pairs, part) ? known : { pairs: part };
  });
  return { pairs, groups };
}

function byFirstPair<Group extends PairGroup>(groups: readonly Group[]): Map<OpenPair, Group> {
  return new Map(groups.flatMap((group) => (group.pairs[0] ? [[group.pairs[0], group] as const] : [])));
}

/** Pairs divided so that no two parts have a link in common; pairs keep their order, parts come by their first pair. */
function splitByLinks(pairs: readonly OpenPair[]): readonly (readonly OpenPair[])[] {
  const parents = pairs.map((_, position) => position);
  const find = (position: number): number => {
    let root = position;
    while (parents[root] !== root) root = parents[root] ?? root;
    for (let at = position; at !== root; ) {
      const next = parents[at] ?? root;
      parents[at] = root;
      at = next;
    }
    return root;
  };
  const firstUser = new Map<string, number>();
  for (const [position, { links }] of pairs.entries()) {
    for (const link of links) {
      const first = firstUser.get(link);
      if (first === undefined) firstUser.set(link, position);
      else {
        const [a, b] = [find(first), find(position)];
        // The smaller number stands for both, so that parts come in the order of their first pairs.
        parents[Math.max(a, b)] = Math.min(a, b);
      }
    }
  }
  const parts = new Map<number, OpenPair[]>();
  for (const [position, pair] of pairs.entries()) addTo(parts, find(position), pair);
  return [...parts.values()];
}
