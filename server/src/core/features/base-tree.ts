/**
 * A base as a tree to browse, one level at a time: families, in each its boards, drives, outcomes and rules; beside them makers and
 * what belongs to no family.
 * Laws (test/property/base-tree.property.test.ts):
 * - every record that stands is in the tree, once in each family it belongs to and once where it belongs to none
 * - a node has as many children as it says, and no two nodes of a tree have one key
 * - the key of a node leads to the record it stands for
 * - no base, however broken, and no key makes it throw
 */

import type { Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, type FamilyRecord, isRetracted } from '../model/record.ts';
import { type Kind, pluralOf } from '../terms/kinds.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import { capitalise } from '../text/capitalise.ts';
import { foldText } from '../text/fold.ts';
import { plural } from '../text/plural.ts';
import { visible } from '../text/visible.ts';
import { evidenceOf, type Verdict } from '../verdicts/evidence.ts';
import { familyBrief } from './family-brief.ts';
import { memberKinds, membersApart, membersOf } from './family-members.ts';
import { pairBrief, recordBrief } from './record-brief.ts';
import { ruleLens } from './rule-lens.ts';

/** What a node is, to be told at a glance: a kind of record, what an outcome comes to, or a record that counts nowhere any more. */
type TreeIcon = Kind | Verdict['result'] | 'retracted';

/** A node of the tree. Its texts are one line each. */
export interface TreeNode {
  /** Names the node within its base, from one snapshot to the next. */
  readonly key: string;
  readonly label: string;
  /** What stands beside the label; may be empty. */
  readonly description: string;
  /** All of it in words, for those who see no icons. */
  readonly spoken: string;
  readonly icon: TreeIcon;
  /** How many nodes stand right below it. */
  readonly children: number;
  /** The record it stands for; undefined for groups. */
  readonly record: AnyRecord | undefined;
}

/** Records of one kind under a heading. */
interface Group {
  readonly key: string;
  readonly label: string;
  readonly kind: Kind;
  readonly list: () => readonly AnyRecord[];
}

/** What a key names: a family or a group, or the record of an id in that group. */
interface Named {
  readonly family: FamilyRecord | undefined;
  readonly group: Group | undefined;
  readonly id: string | undefined;
}

/** The nodes right below one, or the topmost where no key is given; none where the key leads nowhere. Yields after each (invariant 10). */
export function* treeChildren(key: string | undefined, snapshot: Snapshot): Generator<undefined, readonly TreeNode[]> {
  const nodes: TreeNode[] = [];
  for (const node of nodesBelow(key, snapshot)) {
    nodes.push(node);
    yield;
  }
  // Sorting is stable: of one name, families come by id.
  return key === undefined ? nodes.sort(familiesByName) : nodes;
}

function* nodesBelow(key: string | undefined, snapshot: Snapshot): Generator<TreeNode> {
  const { family, group, id } = readKey(key ?? '', snapshot);
  if (key === undefined) {
    for (const one of snapshot.records('family')) yield familyNode(one, snapshot);
    for (const one of groupsApart(snapshot)) if (one.list().length > 0) yield groupNode(one, snapshot);
  } else if (id !== undefined) return;
  else if (group) for (const record of group.list()) yield recordNode(record, { group: key, family, snapshot });
  else if (family) for (const one of familyGroups(family, snapshot)) yield groupNode(one, snapshot);
}

/** The record a node stands for; undefined for groups, and where the key leads nowhere. */
export function treeRecord(key: string, snapshot: Snapshot): AnyRecord | undefined {
  const { family, group, id } = readKey(key, snapshot);
  if (id === undefined) return group ? undefined : family;
  return group && snapshot.findAny(group.kind, id);
}

/** No id holds a slash. */
function readKey(key: string, snapshot: Snapshot): Named {
  const [place, ...steps] = key.split('/');
  const family = place === 'family' ? snapshot.find('family', steps.shift()) : undefined;
  const [kind, id, ...beyond] = steps;
  const groups = family ? familyGroups(family, snapshot) : groupsApart(snapshot);
  const group = groups.find((one) => one.key === [place, ...(family ? [family.id] : []), kind].join('/'));
  const isNamed = beyond.length === 0 && (group !== undefined || kind === undefined);
  return isNamed ? { family, group, id } : { family: undefined, group: undefined, id: undefined };
}

function familyNode(family: FamilyRecord, snapshot: Snapshot): TreeNode {
  const label = visible(family.data.name ?? family.id);
  const drives = membersOf('drive', family, snapshot).length;
  const counted = [plural(drives, 'drive'), familyBrief(family, snapshot)];
  const description = [...(isRetracted(family) ? ['retracted'] : []), ...counted].join(', ');
  return {
    key: `family/${family.id}`,
    ...{ label, description, spoken: `Family ${label}, ${description}` },
    ...{ icon: iconOf(family, snapshot), children: memberKinds.length, record: family },
  };
}

/** Families without regard to case; groups stay behind them as they are. */
function familiesByName(a: TreeNode, b: TreeNode): number {
  if (a.record && b.record) return byCodeUnits(foldText(a.label), foldText(b.label));
  return Number(b.record !== undefined) - Number(a.record !== undefined);
}

function familyGroups(family: FamilyRecord, snapshot: Snapshot): readonly Group[] {
  return memberKinds.map((kind) => ({
    key: `family/${family.id}/${kind}`,
    label: capitalise(pluralOf(kind)),
    kind,
    list: () => membersOf(kind, family, snapshot),
  }));
}

function groupsApart(snapshot: Snapshot): readonly Group[] {
  return [
    { key: 'base/maker', label: 'Makers', kind: 'maker', list: () => snapshot.records('maker') },
    { key: 'all/rule', label: 'Rules for every family', kind: 'rule', list: () => membersApart(snapshot).ruleForAll },
    ...memberKinds.map((kind) => ({
      key: `apart/${kind}`,
      label: `${capitalise(pluralOf(kind))} ${kind === 'rule' ? 'for' : 'of'} no recorded family`,
      kind,
      list: () => membersApart(snapshot)[kind],
    })),
  ];
}

function groupNode({ key, label, kind, list }: Group, snapshot: Snapshot): TreeNode {
  const records = list();
  const results = cameTo(records, snapshot).join(', ');
  const description = `${records.length === 0 ? 'none' : records.length}${results === '' ? '' : `: ${results}`}`;
  const spoken = `${label}, ${description}`;
  return { key, label, description, spoken, icon: kind, children: records.length, record: undefined };
}

/** What outcomes come to: how many work, fail, are inconclusive or retracted. Nothing for records of other kinds. */
function cameTo(records: readonly AnyRecord[], snapshot: Snapshot): readonly string[] {
  const counts = new Map<string, number>();
  for (const record of records) {
    if (record.kind !== 'outcome') return [];
    const icon = iconOf(record, snapshot);
    counts.set(icon, (counts.get(icon) ?? 0) + 1);
  }
  return Object.entries(outcomeWords).flatMap(([icon, words]) => {
    const count = counts.get(icon) ?? 0;
    return count === 0 ? [] : `${count} ${count === 1 ? words.one : words.several}`;
  });
}

const outcomeWords = {
  works: { one: 'works', several: 'work' },
  fails: { one: 'fails', several: 'fail' },
  inconclusive: { one: 'inconclusive', several: 'inconclusive' },
  retracted: { one: 'retracted', several: 'retracted' },
} as const satisfies Partial<Record<TreeIcon, unknown>>;

function recordNode(
  record: AnyRecord,
  {
    group,
    family,
    snapshot,
  }: { readonly group: string; readonly family: FamilyRecord | undefined; readonly snapshot: Snapshot },
): TreeNode {
  const { id: label, kind } = record;
  const description = describe(record, family, snapshot);
  const spoken = [`${capitalise(kind)} ${label}`, description].filter(Boolean).join(', ');
  return { key: `${group}/${label}`, label, description, spoken, icon: iconOf(record, snapshot), children: 0, record };
}

function describe(record: AnyRecord, family: FamilyRecord | undefined, snapshot: Snapshot): string {
  if (record.kind === 'rule') return ruleLens(record, snapshot)?.text ?? 'retracted';
  if (record.kind !== 'outcome') return recordBrief(record, family?.id);
  const { reached } = record.data;
  const stage = reached === undefined ? [] : [`reached ${reached}`];
  return [iconOf(record, snapshot), ...stage, pairBrief(record)].join(', ');
}

function iconOf(record: AnyRecord, snapshot: Snapshot): TreeIcon {
  if (isRetracted(record)) return 'retracted';
  if (record.kind !== 'outcome') return record.kind;
  return evidenceOf(record, snapshot).verdicts[snapshot.config.worksAt].result;
}
