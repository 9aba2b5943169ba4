import { placeIn } from '../features/record-places.ts';
import { romWords } from '../features/rom-words.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { FamilyOdds } from '../odds/family-odds.ts';
import { valueText } from '../review/change-words.ts';
import type { OddsChange, Review, VerdictChange } from '../review/review.ts';
import { addTo } from '../terms/grouped.ts';
import { stages } from '../terms/stages.ts';
import { plural } from '../text/plural.ts';
import { rounded } from '../text/rounded.ts';
import { wholePercent } from '../text/whole-percent.ts';
import type { Evidence } from '../verdicts/evidence.ts';
import { left } from './columns.ts';
import { type Block, type Cell, placedCell } from './document.ts';

/** Rows of a table; what is left out is said below it. */
const mostRows = 60;

/** Settings that differ. */
export function settingsSection({ config }: Review): Block[] {
  const shown = (value: unknown): string => (value === undefined ? '' : `\`${valueText(value)}\``);
  return tableSection('Settings', {
    caption: 'Settings that differ',
    columns: ['setting', 'before', 'now', 'what it hides'],
    rows: config.map(({ path, before, after, hides }) => [
      `\`${path.join('/')}\``,
      shown(before),
      shown(after),
      hides.length === 0 ? '' : plural(hides.length, 'finding'),
    ]),
  });
}

/** Outcomes that prove something else than before. */
export function outcomesSection({ verdicts, change: { before, after } }: Review): Block[] {
  const at = after.config.worksAt;
  const where = before.config.worksAt === at ? `at \`${at}\`` : `at \`${before.config.worksAt}\`, now \`${at}\``;
  return tableSection('Outcomes', {
    caption: `What outcomes prove ${where}`.replaceAll('`', ''),
    columns: ['outcome', 'before', 'now', 'at other stages'],
    rows: verdicts.map((change) => [
      placedCell(change.outcome.id, placeOfOutcome(change, after)),
      verdictText(change.before, before, change.outcome.id),
      verdictText(change.after, after, change.outcome.id),
      otherStages(change, after),
    ]),
  });
}

function placeOfOutcome({ outcome }: VerdictChange, after: Snapshot) {
  const [standing] = after.standings('outcome', outcome.id);
  return standing && placeIn(standing, ['id']);
}

function verdictText(evidence: Evidence | undefined, snapshot: Snapshot, id: string): string {
  if (evidence) return evidence.verdicts[snapshot.config.worksAt].result;
  return snapshot.find('outcome', id) ? 'retracted' : 'not there';
}

/** What differs besides: "ready, detected: fails → inconclusive". */
function otherStages({ before, after }: VerdictChange, { config }: Snapshot): string {
  if (!before || !after) return '';
  const byTurn = new Map<string, string[]>();
  for (const { name } of stages) {
    const [then, now] = [before.verdicts[name].result, after.verdicts[name].result];
    if (name === config.worksAt || then === now) continue;
    addTo(byTurn, `${then} → ${now}`, name);
  }
  return [...byTurn].map(([turn, names]) => `${names.join(', ')}: ${turn}`).join('; ');
}

/** Odds that differ, by family and by whether the ROM travelled. */
export function oddsSection({ odds, change: { after } }: Review): Block[] {
  return tableSection('Odds', {
    caption: 'Pairs of drives that worked, by family of the patient, with exact bounds at 95 %',
    columns: ['family', 'ROM', 'before', 'now'],
    rows: odds.flatMap((change) => oddsRows(change, after)),
  });
}

function oddsRows({ family, before, after }: OddsChange, snapshot: Snapshot): Cell[][] {
  const record = snapshot.find('family', family);
  const rows = [true, false, undefined].flatMap((travels) => {
    const [then, now] = [before, after].map((side) => rateText(side, travels));
    return then === now ? [] : [[family, romWords(record, travels) || 'on the platters', then ?? '', now ?? '']];
  });
  const [then, now] = [before, after].map(
    ({ uncontrolled: { worked, open } }) => `${worked} worked, ${open} inconclusive`,
  );
  return then === now ? rows : [...rows, [family, 'without every control', then ?? '', now ?? '']];
}

function rateText({ rows }: FamilyOdds, travels: boolean | undefined): string {
  const row = rows.find(({ romTravels }) => romTravels === travels);
  if (!row) return 'nothing counted';
  const [low, high] = row.exact.map(wholePercent);
  return `${rounded(row.count.votes, 2)} of ${row.count.pairs} (${low}–${high} %)`;
}

/** Boards that a patient may no longer, or may now, get. */
export function donorsSection({ standings: { donors, patientsLeftOut } }: Review): Block[] {
  const table = tableSection('Donors', {
    caption: 'Donors that stand otherwise for a patient that waits for a board',
    columns: ['patient', 'donor', 'before', 'now'],
    rows: donors.map(({ patient, donor, before, after }) => [
      patient.id,
      donor.id,
      before ?? 'not offered',
      after ?? 'not offered',
    ]),
  });
  if (patientsLeftOut === 0) return table;
  const heading: Block[] = table.length === 0 ? [{ kind: 'heading', level: 2, text: 'Donors' }] : table;
  const text = `${plural(patientsLeftOut, 'more patient')} that this change may touch ${patientsLeftOut === 1 ? 'was' : 'were'} not looked at; \`swaplore donors ID\` tells of one.`;
  return [...heading, { kind: 'paragraph', text }];
}

interface Table {
  readonly caption: string;
  readonly columns: readonly string[];
  readonly rows: readonly (readonly Cell[])[];
}

function tableSection(title: string, { caption, columns, rows }: Table): Block[] {
  if (rows.length === 0) return [];
  const more = rows.length - mostRows;
  return [
    { kind: 'heading', level: 2, text: title },
    { kind: 'table', caption, columns: columns.map(left), rows: rows.slice(0, mostRows) },
    ...(more > 0
      ? [
          {
            kind: 'paragraph',
            text: `${plural(more, 'more row')} ${more === 1 ? 'is' : 'are'} left out; the JSON output has all.`,
          } as const,
        ]
      : []),
  ];
}
