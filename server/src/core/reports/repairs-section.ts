import type { ConditionData } from '../../../../schemas/gen/records.ts';
import type { Place } from '../checks/finding.ts';
import { describeFormula } from '../conditions/describe.ts';
import { toFormula } from '../conditions/formula.ts';
import type { SuggestedRepair } from '../odds/suggested-repairs.ts';
import { inARow } from '../text/in-a-row.ts';
import type { Block } from './document.ts';

/** An edit of one record: the value to set at a path, a JSON pointer into the record. */
interface EditData {
  readonly record: string;
  readonly path: string;
  readonly value: unknown;
}

/** Ways to mend a broken law, any one of which will do. An exception still wants its reason, which only the bench knows. */
interface RepairData {
  readonly rule: string;
  readonly against: readonly string[];
  readonly edits: readonly EditData[];
}

/** Suggested repairs in the shape of the JSON output. */
export function toRepairData({ rule, against, entry, atLeast }: SuggestedRepair): RepairData {
  const record = `rule/${rule.record.id}`;
  const exceptions = [...(rule.record.data.exceptions ?? []), ...against.map((outcome) => ({ outcome }))];
  return {
    rule: rule.record.id,
    against,
    edits: [
      ...(entry ? [{ record, path: '/when', value: entry.when }] : []),
      ...(atLeast === undefined ? [] : [{ record, path: '/at_least', value: atLeast }]),
      { record, path: '/exceptions', value: exceptions },
    ],
  };
}

/** What might mend the laws that are broken, with `places` of rules by id; nothing where none has enough behind it. */
export function repairsSection(repairs: readonly SuggestedRepair[], places: ReadonlyMap<string, Place>): Block[] {
  if (repairs.length === 0) return [];
  const items = repairs.map((repair) => {
    const { id } = repair.rule.record;
    return { name: `rule/${id}`, lines: linesOf(repair), place: places.get(id) };
  });
  return [
    { kind: 'heading', level: 2, text: 'What might mend a broken law' },
    { kind: 'items', items },
  ];
}

function linesOf({ rule, against, entry, atLeast }: SuggestedRepair): string[] {
  const ids = inARow(against);
  return [
    ...(entry ? [entryLine(rule.claim === 'needs', entry.add)] : []),
    ...(atLeast === undefined
      ? []
      : [`Or make it a rate: \`at_least: ${atLeast}\` is what the recorded pairs bear out.`]),
    `Or except ${ids}, with the reason.`,
  ].map((line, position) =>
    position === 0 ? line.replace(/^Or (.)/, (_, first: string) => first.toUpperCase()) : line,
  );
}

function entryLine(isNeed: boolean, add: ConditionData): string {
  const entry = `\`${describeFormula(toFormula(add, []))}\``;
  return isNeed
    ? `Let ${entry} do as well: that keeps what supports it and leaves nothing against it.`
    : `Add ${entry} to its condition: that keeps what supports it and leaves nothing against it.`;
}
