import type { Finding } from '../checks/finding.ts';
import { checks } from '../checks/registry.ts';
import { romWords } from '../features/rom-words.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { FamilyRecord } from '../model/record.ts';
import { type FamilyRate, ratesByFamily } from '../odds/family-rates.ts';
import { kinds } from '../terms/kinds.ts';
import { severities } from '../terms/severities.ts';
import { plural } from '../text/plural.ts';
import { rounded } from '../text/rounded.ts';
import { wholePercent } from '../text/whole-percent.ts';
import { careFirst } from './care-first.ts';
import { left, right } from './columns.ts';
import { countBySeverity, countsInWords } from './counts-in-words.ts';
import { defineReport } from './define-report.ts';
import type { Block, Cell } from './document.ts';
import { shownRows } from './odds.ts';
import { familiesPlot } from './odds-plot.ts';
import { nameOfFamily } from './report-name.ts';
import { countRules, rulePlaces, rulesSection } from './rules-section.ts';
import { verifiedSection } from './verified-section.ts';

/** A base at a glance: what it holds, what checks find in it, how its rules stand, how its families fared and how well it verified. */
export const overviewReport = defineReport({
  name: 'overview',
  title: 'Overview',
  shows: 'the base at a glance',
  isIndex: true,
  document: ({ snapshot, findings, baseName }) => [
    { kind: 'heading', level: 1, text: baseName },
    { kind: 'caution', text: careFirst },
    { kind: 'heading', level: 2, text: 'Records' },
    recordsTable(snapshot),
    { kind: 'heading', level: 2, text: 'Findings' },
    ...findingsBlocks(findings),
    ...rulesSection(countRules(snapshot), rulePlaces(snapshot)),
    ...familiesSection(snapshot),
    ...verifiedSection(snapshot),
  ],
});

function recordsTable(snapshot: Snapshot): Block {
  const caption = `${plural(snapshot.recordCount, 'record')} in ${plural(snapshot.files.size, 'file')}`;
  return {
    kind: 'table',
    caption,
    columns: [left('kind'), right('records')],
    rows: kinds.map((kind) => [kind, snapshot.records(kind).length]),
  };
}

function findingsBlocks(findings: readonly Finding[]): Block[] {
  if (findings.length === 0) return [{ kind: 'paragraph', text: 'No check has found anything.' }];
  const rows = checks.flatMap(({ check }) => {
    const found = findings.filter((finding) => finding.check === check);
    const counts = countBySeverity(found);
    return found.length === 0 ? [] : [{ check, counts: severities.map((severity) => counts[severity]) }];
  });
  const gravestFirst = rows.sort((a, b) => compareCounts(a.counts, b.counts));
  return [
    {
      kind: 'table',
      caption: `${countsInWords(findings)}, by check`,
      columns: [left('check'), right('errors'), right('warnings'), right('notes')],
      rows: gravestFirst.map(({ check, counts }) => [check, ...counts]),
    },
  ];
}

/** More errors first, then more warnings, then more notes. */
function compareCounts(a: readonly number[], b: readonly number[]): number {
  for (const [position, count] of a.entries()) {
    const difference = (b[position] ?? 0) - count;
    if (difference !== 0) return difference;
  }
  return 0;
}

/** Families in the plot; the best known ones. */
const mostPlotted = 10;

function familiesSection(snapshot: Snapshot): Block[] {
  const families = snapshot.records('family').map((family) => {
    const rates = ratesByFamily(snapshot).get(family.id) ?? [];
    return { family, rates, rows: shownRows(rates).filter(({ count }) => count.pairs > 0) };
  });
  if (families.length === 0) return [];
  return [
    { kind: 'heading', level: 2, text: 'Families' },
    ...oddsPlot(families),
    {
      kind: 'table',
      caption: 'Pairs of drives that worked, by family of the patient',
      columns: [left('family'), left('ROM'), ...figures.map(right)],
      rows: families.flatMap(familyRows),
    },
    { kind: 'paragraph', text: [...oddsNotes, ...uncountedWords(families)].join(' ') },
  ];
}

const figures = ['pairs', 'worked', 'independent', 'at least', 'at most'];

const oddsNotes = [
  'Only outcomes with every control count. A pair of drives that was tried more than once counts once, for the share of its trials that worked.',
  'The bounds are exact at 95 % and rest on pairs that share no drive.',
];

interface FamilyRows {
  readonly family: FamilyRecord;
  /** All that there are. */
  readonly rates: readonly FamilyRate[];
  /** Those that count a pair and say something of their own. */
  readonly rows: readonly FamilyRate[];
}

/** The families of which most is known, by independent pairs; nothing where no pair is counted. */
function oddsPlot(families: readonly FamilyRows[]): Block[] {
  const known = families
    .filter(({ rows }) => rows.length > 0)
    .map((one) => ({ ...one, pairs: independentPairs(one) }))
    .sort((a, b) => b.pairs - a.pairs);
  if (known.length === 0) return [];
  const left = known.length - mostPlotted;
  const more = `Shown are the ${mostPlotted} families of which most is known; ${plural(left, 'other')} with counted pairs ${left === 1 ? 'is' : 'are'} in the table.`;
  return [familiesPlot(known.slice(0, mostPlotted)), ...(left > 0 ? [{ kind: 'paragraph', text: more } as const] : [])];
}

function independentPairs({ rates }: FamilyRows): number {
  return rates.find(({ romTravels }) => romTravels === undefined)?.count.independentPairs ?? 0;
}

/** The rows of a family in the table: one a ROM state, or one without figures. Each leads to the page of the family. */
function familyRows({ family, rows }: FamilyRows): Cell[][] {
  const first = { text: family.id, report: nameOfFamily(family.id) };
  if (rows.length === 0) return [[first, 'nothing to count yet', 0, ...figures.slice(1).map(() => '')]];
  return rows.map(({ romTravels, count, exact }) => {
    const isAll = romTravels === undefined && rows.length > 1;
    const words = isAll ? 'all swaps' : romWords(family, romTravels) || 'on the platters';
    const bounds = exact.map((bound) => `${wholePercent(bound)} %`);
    return [first, words, count.pairs, rounded(count.votes, 2), count.independentPairs, ...bounds];
  });
}

function uncountedWords(families: readonly FamilyRows[]): string[] {
  const all = families.flatMap(({ rates }) => rates.filter(({ romTravels }) => romTravels === undefined));
  const worked = all.reduce((sum, { uncontrolled }) => sum + uncontrolled.worked, 0);
  const open = all.reduce((sum, { uncontrolled }) => sum + uncontrolled.open, 0);
  return worked + open === 0 ? [] : [`Not counted: ${worked} that worked without every control, ${open} inconclusive.`];
}
