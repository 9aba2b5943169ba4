import type { Finding } from '../checks/finding.ts';
import { checks } from '../checks/registry.ts';
import { placeIn } from '../features/record-places.ts';
import { romWords } from '../features/rom-words.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { FamilyRecord } from '../model/record.ts';
import { familyOdds } from '../odds/family-odds.ts';
import { kinds } from '../terms/kinds.ts';
import { severities } from '../terms/severities.ts';
import { inARow } from '../text/in-a-row.ts';
import { plural } from '../text/plural.ts';
import { rounded } from '../text/rounded.ts';
import { wholePercent } from '../text/whole-percent.ts';
import { countBySeverity, countsInWords } from './counts-in-words.ts';
import { type Block, type Cell, type Column, placedCell } from './document.ts';
import { countRules, rulePlaces, rulesSection } from './rules-section.ts';
import { verifiedSection } from './verified-section.ts';

/** A base at a glance: what it holds, what checks find in it, how its rules stand, how its families fared and how well it verified. */
export function overviewDocument(snapshot: Snapshot, findings: readonly Finding[], baseName: string): Block[] {
  const rules = countRules(snapshot);
  return [
    { kind: 'heading', level: 1, text: baseName },
    { kind: 'caution', text: careFirst },
    { kind: 'heading', level: 2, text: 'Records' },
    recordsTable(snapshot),
    { kind: 'heading', level: 2, text: 'Findings' },
    ...findingsBlocks(findings),
    ...rulesSection(rules, rulePlaces(snapshot)),
    ...familiesSection(snapshot),
    ...verifiedSection(snapshot),
  ];
}

const careFirst =
  'This is what was recorded, and promises nothing of the next swap. Powering a drive can cost data: where the data matters to ' +
  'anyone, leave it to a professional recovery lab.';

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

function familiesSection(snapshot: Snapshot): Block[] {
  const odds = snapshot.records('family').map((family) => ({ family, ...familyOdds(family.id, snapshot) }));
  if (odds.length === 0) return [];
  const rows = odds.flatMap(({ family, rows }) => rows.map((row) => oddsCells(family, row, snapshot)));
  const without = odds.filter(({ rows }) => rows.length === 0).map(({ family }) => family.id);
  const worked = odds.reduce((sum, { uncontrolled }) => sum + uncontrolled.worked, 0);
  const open = odds.reduce((sum, { uncontrolled }) => sum + uncontrolled.open, 0);
  const notes = [
    'Only outcomes with every control count. A pair of drives that was tried more than once counts once, for the share of its trials that worked.',
    'The bounds are exact at 95 % and rest on pairs that share no drive.',
    ...(worked + open === 0 ? [] : [`Not counted: ${worked} that worked without every control, ${open} inconclusive.`]),
    ...(without.length === 0 ? [] : [`Nothing to count yet: ${inARow(without)}.`]),
  ];
  return [
    { kind: 'heading', level: 2, text: 'Families' },
    ...(rows.length === 0 ? [] : [oddsTable(rows)]),
    { kind: 'paragraph', text: notes.join(' ') },
  ];
}

function oddsTable(rows: readonly (readonly Cell[])[]): Block {
  const figures = ['pairs', 'worked', 'independent', 'at least', 'at most'];
  return {
    kind: 'table',
    caption: 'Pairs of drives that worked, by family of the patient',
    columns: [left('family'), left('ROM'), ...figures.map(right)],
    rows,
  };
}

function oddsCells(
  family: FamilyRecord,
  { romTravels, count, exact }: ReturnType<typeof familyOdds>['rows'][number],
  snapshot: Snapshot,
): Cell[] {
  const place = placeIn(snapshot.locate(family), ['id']);
  const bounds = exact.map((bound) => `${wholePercent(bound)} %`);
  const words = romWords(family, romTravels) || 'on the platters';
  return [placedCell(family.id, place), words, count.pairs, rounded(count.votes, 2), count.independentPairs, ...bounds];
}

function left(title: string): Column {
  return { title, align: 'left' };
}

function right(title: string): Column {
  return { title, align: 'right' };
}
