import { tracedValues } from '../captures/assembly.ts';
import { romTravels } from '../conditions/rom-travels.ts';
import { placeIn } from '../features/record-places.ts';
import { romWords } from '../features/rom-words.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { FamilyRecord } from '../model/record.ts';
import { ratesByFamily } from '../odds/family-rates.ts';
import { findKeyRow } from '../schema/key-rows.ts';
import { plural } from '../text/plural.ts';
import { shortName } from '../text/short-name.ts';
import { nextTrial } from '../trials/next-trial.ts';
import type { Evidence } from '../verdicts/evidence.ts';
import { evidenceByFamily } from '../verdicts/evidence-by-family.ts';
import { identityTally } from '../verdicts/identity-tally.ts';
import { careFirst } from './care-first.ts';
import { left, right } from './columns.ts';
import type { Block, Cell, Column } from './document.ts';
import { collectExplanations, explanationBlocks } from './explanations.ts';
import { familyBoards } from './family-boards.ts';
import { familyFacts } from './family-facts.ts';
import { nextTrialBlocks } from './next-trial.ts';
import { oddsLegend, rateItems, shownRows } from './odds.ts';
import { familyPlot } from './odds-plot.ts';
import { familyRules } from './rules-of-families.ts';
import { section } from './section.ts';

/** What a base knows of a family: facts, boards, odds, what its drives answer with, rules and outcomes. */
export function familyDocument(family: FamilyRecord, snapshot: Snapshot): Block[] {
  const { name } = family.data;
  return [
    { kind: 'heading', level: 1, text: name === undefined ? family.id : `${shortName(name)} (${family.id})` },
    { kind: 'caution', text: careFirst },
    ...oddsSection(family, snapshot),
    ...section('Facts', familyFacts(family)),
    ...familyBoards(family, snapshot),
    ...section('Identity', identityTable(family, snapshot)),
    ...familyRules(family, snapshot),
    ...explainedSections(family, snapshot),
    ...outcomesSection(family, snapshot),
  ];
}

function oddsSection(family: FamilyRecord, snapshot: Snapshot): Block[] {
  const rows = shownRows(ratesByFamily(snapshot).get(family.id) ?? []);
  if (rows.length === 0) return section('Odds', [{ kind: 'paragraph', text: 'No outcome is recorded yet.' }]);
  return section('Odds', [
    {
      kind: 'paragraph',
      text: `Pairs of drives that worked at \`${snapshot.config.worksAt}\`, whose patient is of this family.`,
    },
    familyPlot(family, rows),
    { kind: 'items', items: rateItems(family, rows) },
    { kind: 'paragraph', text: oddsLegend },
  ]);
}

/** What explains the outcomes, and what to try next; nothing where no outcome is recorded. */
function explainedSections({ id }: FamilyRecord, snapshot: Snapshot): Block[] {
  if ((evidenceByFamily(snapshot).get(id) ?? []).length === 0) return [];
  return [
    ...section('Explanations', explanationBlocks(collectExplanations(id, snapshot), snapshot)),
    ...section('The next trial', nextTrialBlocks(nextTrial(id, snapshot), snapshot)),
  ];
}

const seen = ['platters', 'plattersOrRom', 'board', 'sameOnBoth', 'neither'] as const;

const seenTitles = ['platters', 'platters or ROM', 'board', 'same on both', 'neither'];

/** What the record says each value follows, beside what outcomes showed; nothing where neither says anything. */
function identityTable(family: FamilyRecord, snapshot: Snapshot): Block[] {
  const tally = identityTally(family.id, snapshot);
  const rows = tracedValues.flatMap((value): Cell[][] => {
    const row = tally.find((one) => one.value === value);
    const said = family.data.identity?.[value];
    if (!row && said === undefined) return [];
    const title = findKeyRow('family', ['identity', value])?.title ?? value;
    return [[title, said ?? 'not recorded', ...seen.map((key) => row?.[key] ?? 0)]];
  });
  if (rows.length === 0) return [];
  const columns = [left('value'), left('recorded'), ...seenTitles.map(right)];
  return [
    { kind: 'table', caption: 'What each value follows: as recorded, and how often it was seen to', columns, rows },
  ];
}

/** Outcomes that are listed; the latest. */
const mostOutcomes = 500;

function outcomesSection(family: FamilyRecord, snapshot: Snapshot): Block[] {
  const all = evidenceByFamily(snapshot).get(family.id) ?? [];
  if (all.length === 0) return [];
  const latest = [...all].sort(latestFirst).slice(0, mostOutcomes);
  const more = all.length - latest.length;
  return section('Outcomes', [
    {
      kind: 'table',
      caption: `${plural(all.length, 'outcome')}, the latest first`,
      columns: [
        left('outcome'),
        ...['date', 'patient', 'donor', 'ROM', 'reached', `at ${snapshot.config.worksAt}`, 'counted'].map(short),
      ],
      rows: latest.map((one) => outcomeCells(family, one, snapshot)),
    },
    ...(more === 0 ? [] : [{ kind: 'paragraph', text: `Not shown: ${plural(more, 'earlier one')}.` } as const]),
  ]);
}

function latestFirst(a: Evidence, b: Evidence): number {
  const [first = '', second = ''] = [a.outcome.data.date, b.outcome.data.date].map((date) => date ?? '');
  return first === second ? 0 : first < second ? 1 : -1;
}

function outcomeCells(family: FamilyRecord, { outcome, swap, verdicts }: Evidence, snapshot: Snapshot): Cell[] {
  const { result, isEligible } = verdicts[snapshot.config.worksAt];
  const { date = '', patient = '', donor = '', reached = '' } = outcome.data;
  const rom = romWords(family, swap && romTravels(swap)) || 'on the platters';
  return [
    { text: outcome.id, place: placeIn(snapshot.locate(outcome), ['id']) },
    ...[date, patient, donor, rom, reached, result],
    isEligible ? 'yes' : 'no',
  ];
}

function short(title: string): Column {
  return { title, align: 'left', isShort: true };
}
