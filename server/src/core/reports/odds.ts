import type { ConditionData } from '../../../../schemas/gen/records.ts';
import { describeFormula } from '../conditions/describe.ts';
import type { Formula } from '../conditions/formula.ts';
import { placeIn } from '../features/record-places.ts';
import { romWords } from '../features/rom-words.ts';
import { uncontrolledWords } from '../features/uncontrolled-words.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { FamilyRecord } from '../model/record.ts';
import { type FamilyRate, familyRates, ratesByFamily } from '../odds/family-rates.ts';
import { inARow } from '../text/in-a-row.ts';
import { plural } from '../text/plural.ts';
import { roughPercent } from '../text/rough-percent.ts';
import { rounded } from '../text/rounded.ts';
import type { Block, Item } from './document.ts';

/** What odds are asked for. */
export interface OddsQuestion {
  /** The id of a recorded family; undefined for all. */
  readonly family: string | undefined;
  /** A condition that swaps have to meet, as data and as formula. */
  readonly given: { readonly data: ConditionData; readonly formula: Formula } | undefined;
}

/** The odds of families, three rows each: ROM travelled, not travelled, both together. */
export function collectOdds(snapshot: Snapshot, { family, given }: OddsQuestion): readonly FamilyRate[] {
  const rates = given ? familyRates(snapshot, given.formula) : [...ratesByFamily(snapshot).values()].flat();
  return rates.filter((row) => family === undefined || row.family === family);
}

/** The same with the keys and shapes of the JSON output. */
export function oddsData(rates: readonly FamilyRate[], { given }: OddsQuestion): object[] {
  return rates.map(({ count, romTravels, leaveOneDriveOut, uncontrolled, notKnown, family, ...intervals }) => ({
    family,
    given: given?.data ?? null,
    romTravels: romTravels ?? null,
    pairs: count.pairs,
    works: count.votes,
    drives: count.drives,
    independentPairs: count.independentPairs,
    uncontrolled,
    notKnown,
    ...intervals,
    leaveOneDriveOut: leaveOneDriveOut ?? null,
  }));
}

/** The odds in plain words. A rate is never given without the bounds it has. */
export function oddsDocument(
  rates: readonly FamilyRate[],
  { given }: OddsQuestion,
  { snapshot, baseName }: { readonly snapshot: Snapshot; readonly baseName: string },
): Block[] {
  const sections = snapshot.records('family').map((family) => {
    const rows = rates.filter((row) => row.family === family.id);
    return { family, isAsked: rows.length > 0, rows: shownRows(rows) };
  });
  const without = sections.filter(({ rows, isAsked }) => isAsked && rows.length === 0).map(({ family }) => family.id);
  const condition = given ? `, given \`${describeFormula(given.formula)}\`` : '';
  return [
    { kind: 'heading', level: 1, text: `Odds: ${baseName}` },
    {
      kind: 'paragraph',
      text: `Pairs of drives that worked at \`${snapshot.config.worksAt}\`${condition}, by family of the patient.`,
    },
    ...sections.flatMap(({ family, rows }) => familyBlocks(family, rows, snapshot)),
    ...(without.length === 0
      ? []
      : [{ kind: 'paragraph', text: `Nothing to count yet: ${inARow(without)}.` } as const]),
    { kind: 'paragraph', text: oddsLegend },
  ];
}

/** What odds count, and what they promise. */
export const oddsLegend =
  'Only outcomes with every control count, and a pair of drives counts once, for the share of its trials that worked. Bounds are exact ' +
  'at 95 % and rest on pairs that share no drive. All this is what was recorded, and promises nothing of the next swap.';

/** Rows that hold an outcome; that of both ROM states only where it holds more than one other row does. */
export function shownRows(rows: readonly FamilyRate[]): readonly FamilyRate[] {
  const filled = rows.filter((row) => outcomesIn(row) > 0);
  const [first, second] = filled;
  const isOneState = filled.length === 2 && first && second && outcomesIn(first) === outcomesIn(second);
  return isOneState ? [first] : filled;
}

/** The outcomes a row speaks of, counted or not. */
function outcomesIn({ outcomes, uncontrolled, notKnown }: FamilyRate): number {
  return outcomes + uncontrolled.worked + uncontrolled.open + notKnown;
}

function familyBlocks(family: FamilyRecord, rows: readonly FamilyRate[], snapshot: Snapshot): Block[] {
  if (rows.length === 0) return [];
  const place = placeIn(snapshot.locate(family), ['id']);
  return [
    { kind: 'heading', level: 2, text: family.id },
    { kind: 'items', items: rateItems(family, rows).map((item) => ({ ...item, place })) },
  ];
}

/** Each of some rows of a family in words. */
export function rateItems(family: FamilyRecord, rows: readonly FamilyRate[]): Item[] {
  return rows.map((row) => ({ name: rowName(family, row, rows), lines: rowLines(row) }));
}

function rowName(family: FamilyRecord, { romTravels }: FamilyRate, rows: readonly FamilyRate[]): string {
  if (romTravels === undefined && rows.length > 1) return 'All swaps, whatever became of the ROM';
  return romWords(family, romTravels) || 'Adaptives stay on the platters';
}

function rowLines(row: FamilyRate): string[] {
  const { count, exact, pooled, notKnown } = row;
  const uncounted = uncontrolledWords(row.uncontrolled);
  const counted =
    count.pairs === 0
      ? ['No pair to count yet.']
      : [
          `${rounded(count.votes, 2)} of ${plural(count.pairs, 'pair')} worked; the true rate is likely ${between(exact)}.`,
          sharedWords(row),
          ...leftOutWords(row),
        ];
  return [
    ...counted,
    `In the light of all families, ${roughPercent(pooled.mean)} % is to be expected, likely ${between(pooled.interval)}.`,
    ...(uncounted === undefined ? [] : [`Not counted: ${uncounted}.`]),
    ...leanWords(row),
    ...(notKnown === 0 ? [] : [`Of ${plural(notKnown, 'outcome')} the condition is not known.`]),
  ];
}

function between([low, high]: readonly [number, number]): string {
  return `between ${roughPercent(low)} % and ${roughPercent(high)} %`;
}

function sharedWords({ count: { pairs, drives, independentPairs } }: FamilyRate): string {
  const counted = `${plural(pairs, 'pair')}, ${plural(drives, 'drive')}`;
  if (independentPairs === pairs) return pairs === 1 ? `${counted}.` : `${counted}: no two pairs share a drive.`;
  return `${counted}; they share drives, so the bounds rest on ${plural(independentPairs, 'independent pair')}.`;
}

function leftOutWords({ count, leaveOneDriveOut }: FamilyRate): string[] {
  if (count.pairs === 1) return [];
  if (!leaveOneDriveOut) return ['One drive is in every pair, so all of this rests on it.'];
  const [low, high] = leaveOneDriveOut.map(roughPercent);
  if (low === high) return [`Leave out any one drive, and still ${low} % of the pairs left worked.`];
  return [`Leave out any one drive, and ${low} % to ${high} % of the pairs left worked.`];
}

/**
 * What is to be said where even the bounds leave out the share of all swaps that worked: then controls may have been made by what came
 * of the swap, and no counting mends that.
 */
function leanWords({ count, outcomes, exact: [low, high], uncontrolled: { worked, open } }: FamilyRate): string[] {
  if (count.pairs === 0) return [];
  const share = ((count.votes / count.pairs) * outcomes + worked) / (outcomes + worked + open);
  if (share >= low && share <= high) return [];
  const counted = open === 0 ? 'Counted with them' : 'Counted with them, the inconclusive as failures';
  const [after, off] = share < low ? ['successes', 'high'] : ['failures', 'low'];
  return [
    `${counted}, ${roughPercent(share)} % worked: if controls were made mostly after ${after}, these rates are too ${off}.`,
  ];
}
