import { type DonorGroup, donorGroups } from '../donors/donor-verdict.ts';
import { keysToInspect } from '../donors/keys-to-inspect.ts';
import type { DonorRanking, RankedDonor } from '../donors/rank-donors.ts';
import { placeIn } from '../features/record-places.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { claimWords } from '../reasoning/claim-words.ts';
import { ruleResults } from '../reasoning/rule-results.ts';
import { cautionsBefore } from '../recording/cautions.ts';
import { inThousands } from '../text/in-thousands.ts';
import { plural } from '../text/plural.ts';
import { shortName } from '../text/short-name.ts';
import { withShortQuotes } from '../text/with-short-quotes.ts';
import type { Block } from './document.ts';
import { donorLines } from './donor-lines.ts';
import { examinationWords } from './examination-words.ts';
import { travelWords } from './travel-words.ts';

/** Donors that are spelt out in each group unless more are asked for. */
export const mostDonors = 5;

/** What a sheet is made for. */
export interface SheetRequest {
  readonly snapshot: Snapshot;
  readonly baseName: string;
  /** Donors that are spelt out in each group; the rest is counted. */
  readonly mostDonors: number;
}

/** What to know before a board goes on a patient, and which boards of the shelf could: one page to be taken to the bench. */
export function donorSheet(ranking: DonorRanking, request: SheetRequest): Block[] {
  const { snapshot, baseName } = request;
  const { patient, plan, state } = ranking;
  const cautions = cautionsFor(ranking, snapshot);
  return [
    { kind: 'heading', level: 1, text: `Donors for ${patient.drive.id}: ${baseName}` },
    { kind: 'paragraph', text: patientWords(ranking) },
    ...cautions('donor'),
    { kind: 'heading', level: 2, text: 'Examination' },
    ...paragraphs(examinationWords(ranking)),
    { kind: 'heading', level: 2, text: 'What has to travel' },
    ...paragraphs(travelWords(ranking)),
    ...(plan.actions?.includes('left') === true ? [] : cautions('rom')),
    ...(state.isMeasuredFirst ? [] : groupBlocks(ranking, request)),
  ];
}

function cautionsFor({ patient: { drive } }: DonorRanking, snapshot: Snapshot): (before: string) => Block[] {
  const bench = {
    snapshot,
    text: (name: string) => (name === 'patient' ? drive.id : undefined),
    drive: (name: string) => (name === 'patient' ? drive : undefined),
  };
  return (before) => cautionsBefore(before, bench).map((text): Block => ({ kind: 'caution', text }));
}

function paragraphs(lines: readonly string[]): Block[] {
  return lines.map((text) => ({ kind: 'paragraph', text: withShortQuotes(text) }));
}

function patientWords({ patient: { drive, family }, donors, state }: DonorRanking): string {
  const { model, board } = drive.data;
  const parts = [
    `family \`${drive.data.family ?? 'not recorded'}\`${family ? '' : ', which is not recorded'}`,
    ...(model === undefined ? [] : [`model \`${shortName(model)}\``]),
    board?.id === undefined ? 'board not recorded' : `board \`${board.id}/${board.rev ?? '?'}\``,
  ];
  const known = `Patient \`${drive.id}\`: ${parts.join(', ')}.`;
  if (state.isMeasuredFirst) return known;
  const counts = donorGroups.map((group) => `${inThousands(inGroup(donors, group).length)} ${countWords[group]}`);
  return `${known} Boards on the shelf: ${counts.join(', ')}.`;
}

const countWords: Readonly<Record<DonorGroup, string>> = { fits: 'fit', open: 'open', excluded: 'excluded' };

const titles: Readonly<Record<DonorGroup, string>> = {
  fits: 'Fits: a law says it works, and none is against it',
  open: 'Open: no law is against it',
  excluded: 'Excluded: a law is against it',
};

/** The laws that decide about these donors, each once with what it rests on, so that no donor has to repeat it. */
function lawWords(donors: readonly RankedDonor[], snapshot: Snapshot): string[] {
  const laws = new Set(donors.flatMap(({ verdict }) => [...verdict.against, ...verdict.promises, ...verdict.shortOf]));
  return ruleResults(snapshot)
    .filter(({ rule }) => laws.has(rule))
    .map(({ rule, support, against }) => {
      const counts = `${plural(support.length, 'outcome')} for it, ${against.length} against`;
      const reach = `${rule.claim === 'prevents' ? 'from reaching' : 'to reach'} \`${rule.stage}\``;
      return `Rule \`${rule.record.id}\` says ${claimWords(rule, 'a swap')} ${reach} (${counts}).`;
    });
}

/** Said once, where it goes for all of them. */
function settledWords(group: DonorGroup, donors: readonly RankedDonor[], snapshot: Snapshot): string[] {
  const isSettled = donors.every(({ swap, verdict }) => keysToInspect(verdict.undecided, swap, snapshot).length === 0);
  return group === 'open' && isSettled
    ? ['No law promises that they work, and nothing left to inspect would decide it.']
    : [];
}

function inGroup(donors: readonly RankedDonor[], group: DonorGroup): readonly RankedDonor[] {
  return donors.filter(({ verdict }) => verdict.group === group);
}

function groupBlocks({ donors, plan, patient }: DonorRanking, { snapshot, mostDonors }: SheetRequest): Block[] {
  if (donors.length === 0) return [{ kind: 'paragraph', text: 'No board on the shelf could be lent to it.' }];
  return donorGroups.flatMap((group): Block[] => {
    const members = inGroup(donors, group);
    if (members.length === 0) return [];
    const shown = members.slice(0, mostDonors);
    const left = members.length - shown.length;
    const items = shown.map((donor) => ({
      ...donorLines(donor, plan, snapshot),
      place: placeIn(snapshot.locate(donor.swap.donor.drive), ['id']),
    }));
    return [
      { kind: 'heading', level: 2, text: titles[group] },
      ...paragraphs([...lawWords(shown, snapshot), ...settledWords(group, shown, snapshot)]),
      { kind: 'items', items },
      ...(left === 0
        ? []
        : [
            {
              kind: 'paragraph',
              text: `${inThousands(left)} more; \`swaplore donors ${patient.drive.id} --all\` lists all.`,
            } as const,
          ]),
    ];
  });
}
