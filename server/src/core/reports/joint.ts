import type { Snapshot } from '../index/snapshot.ts';
import { type ForcedValue, forcedValues } from '../reasoning/forced-values.ts';
import { type JointSet, jointResults } from '../reasoning/joint-contradictions.ts';
import type { Share } from '../solver/recorded-swap.ts';
import type { Value } from '../solver/terms.ts';
import { inARow } from '../text/in-a-row.ts';
import type { Block } from './document.ts';

/** That all boards of a revision have the same of a key it does not say. */
interface AssumptionData {
  readonly record: string;
  readonly rev: string;
  readonly key: string;
}

/** A minimal set of outcomes, rules and assumptions that cannot all be right. */
interface JointData {
  readonly outcomes: readonly string[];
  readonly rules: readonly string[];
  readonly assumptions: readonly AssumptionData[];
  /** The fewest outcomes without which all of the group can be right; empty where that was not found. */
  readonly smallestRemoval: readonly string[];
  /** Whether it is proved that no fewer will do. */
  readonly smallestRemovalExact: boolean;
}

/** A value that nobody recorded and that follows from rules and outcomes. */
interface ForcedData {
  readonly values: readonly { readonly record: string; readonly key: string }[];
  readonly relation: ForcedValue['relation'];
  /** Only of `is`. */
  readonly value?: Value;
  /** A minimal set of what it follows from. */
  readonly rules: readonly string[];
  readonly outcomes: readonly string[];
  readonly assumptions: readonly AssumptionData[];
}

/** What outcomes and rules come to together, in the shape of the JSON output. */
export interface JointReportData {
  readonly joint: readonly JointData[];
  readonly forced: readonly ForcedData[];
}

/** What outcomes and rules of a base come to together. */
export function collectJoint(snapshot: Snapshot): JointReportData {
  const joint = [...jointResults(snapshot)].flatMap((result) =>
    (result?.sets ?? []).map((set): JointData => {
      const removal = result?.removal;
      return {
        ...membersOf(set),
        smallestRemoval: (removal?.outcomes ?? []).map(({ outcome }) => outcome.id),
        smallestRemovalExact: removal?.isExact === true,
      };
    }),
  );
  const forced = [...forcedValues(snapshot)].flatMap((value) => (value ? toForced(value) : []));
  return { joint, forced };
}

function membersOf({
  outcomes,
  rules,
  assumptions,
}: JointSet): Omit<JointData, 'smallestRemoval' | 'smallestRemovalExact'> {
  return {
    outcomes: outcomes.map(({ outcome }) => outcome.id),
    rules: rules.map(({ record }) => record.id),
    assumptions: assumptions.map((share) => toAssumption(share)),
  };
}

function toAssumption({ board, rev, key }: Share): AssumptionData {
  return { record: `board/${board}`, rev, key };
}

function toForced({ values, relation, value, from }: ForcedValue): ForcedData {
  return {
    values: values.map((name) => {
      const [record = '', key = ''] = name.split(' ');
      return { record, key };
    }),
    relation,
    ...(value === undefined ? {} : { value }),
    rules: from.flatMap((member) => (member.is === 'rule' ? [member.rule.record.id] : [])),
    outcomes: from.flatMap((member) => (member.is === 'outcome' ? [member.evidence.outcome.id] : [])),
    assumptions: from.flatMap((member) => (member.is === 'assumption' ? [toAssumption(member.share)] : [])),
  };
}

/** Most values a report lists; there may be thousands. */
const mostShown = 20;

/** What follows for values that nobody recorded, the first few of them; nothing where nothing does. */
export function forcedSection({ forced }: JointReportData): Block[] {
  if (forced.length === 0) return [];
  const items = forced.slice(0, mostShown).map((one) => ({ name: describeForced(one), lines: [describeReasons(one)] }));
  const left = forced.length - items.length;
  return [
    { kind: 'heading', level: 2, text: 'What follows for values that are not recorded' },
    { kind: 'items', items },
    ...(left > 0 ? [{ kind: 'paragraph' as const, text: `${left} more are listed with --json.` }] : []),
  ];
}

function describeForced({ values, relation, value }: ForcedData): string {
  const [first, second] = values;
  const key = `\`${first?.key}\``;
  if (relation === 'is') return `${key} of ${first?.record} is \`${value}\``;
  const owners = `${first?.record} and ${second?.record}`;
  return relation === 'equal' ? `${owners} have the same ${key}` : `${owners} differ in ${key}`;
}

function describeReasons({ rules, outcomes, assumptions }: ForcedData): string {
  const [one, many] = [['rule', 'outcome'] as const, ['rules', 'outcomes'] as const];
  const from = [rules, outcomes].map((ids, position) => `${(ids.length === 1 ? one : many)[position]} ${inARow(ids)}`);
  const assumed = assumptions.map(
    ({ record, rev, key }) => `, if all boards of \`${record.slice('board/'.length)}/${rev}\` have the same \`${key}\``,
  );
  return `From ${from.join(' and ')}${assumed.join('')}.`;
}
