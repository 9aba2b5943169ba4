import { placeIn } from '../features/record-places.ts';
import { referrersOf } from '../index/referrers.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { type BoardRecord, type FamilyRecord, isRetracted } from '../model/record.ts';
import { type InterchangeClaim, interchangeClaims } from '../reasoning/interchange-claims.ts';
import { findKeyRow } from '../schema/key-rows.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import { foldText } from '../text/fold.ts';
import { inSentence } from '../text/in-sentence.ts';
import type { Block, Cell } from './document.ts';
import { interchangeDiagram, standingWords } from './interchange-diagram.ts';

/** The boards of a family with their revisions, and which of these do for which; nothing where there is no board. */
export function familyBoards(family: FamilyRecord, snapshot: Snapshot): Block[] {
  const boards = boardsOf(family, snapshot).map((board) => ({
    ...{ board, id: board.id },
    revisions: (board.data.revisions ?? []).flatMap(({ rev }) => rev ?? []),
    all: interchangeClaims(board, family.id, snapshot),
  }));
  if (boards.length === 0) return [];
  const drawn = boards.map(({ id, revisions, all }) => ({
    ...{ id, revisions },
    claims: all.filter(({ isClaimed }) => isClaimed),
  }));
  const following = boards.flatMap(({ id, all }) => followingWords(id, all));
  return [
    { kind: 'heading', level: 2, text: 'Boards' },
    revisionsTable(
      boards.map(({ board }) => board),
      family,
      snapshot,
    ),
    interchangeDiagram(drawn),
    { kind: 'paragraph', text: [legend, ...following].join(' ') },
  ];
}

const legend =
  'An arrow leads from a revision to one whose drives are said to work with it once the ROM has travelled. Whole: swaps bear it out. ' +
  'Broken: a swap failed that no law explains. In dots: no swap has decided it.';

/** Boards that name the family, and those that its drives carry, by id. */
function boardsOf(family: FamilyRecord, snapshot: Snapshot): BoardRecord[] {
  const boards = new Set<BoardRecord>();
  for (const one of referrersOf(family.id, snapshot)) {
    const board =
      one.kind === 'board' && one.data.families?.includes(family.id)
        ? one
        : one.kind === 'drive' && one.data.family === family.id
          ? snapshot.find('board', one.data.board?.id)
          : undefined;
    if (board && !isRetracted(board)) boards.add(board);
  }
  return [...boards].sort((a, b) => byCodeUnits(a.id, b.id));
}

/** What is shown of a revision besides its name, as the schema calls it. */
const shownKeys = ['controller', 'motor_driver', 'contact_pads'] as const;

function revisionsTable(boards: readonly BoardRecord[], family: FamilyRecord, snapshot: Snapshot): Block {
  const drives = drivesByRevision(family, snapshot);
  const titleOf = (...path: string[]): string => inSentence(findKeyRow('board', path)?.title ?? '');
  return {
    kind: 'table',
    caption: 'Revisions of its boards',
    columns: [
      { title: 'board', align: 'left' },
      { title: titleOf('revisions', 'rev'), align: 'left' },
      ...shownKeys.map((key) => ({ title: titleOf('revisions', key), align: 'left' as const })),
      { title: 'drives here', align: 'right' },
    ],
    rows: boards.flatMap((board) =>
      (board.data.revisions ?? []).map((revision, at): Cell[] => [
        { text: board.id, place: placeIn(snapshot.locate(board), ['revisions', at, 'rev']) },
        revision.rev ?? '',
        ...shownKeys.map((key) => [revision[key] ?? ''].flat().join(', ')),
        drives.get(revisionName(board.id, revision.rev)) ?? 0,
      ]),
    ),
  };
}

/** How many drives of the family carry each revision. */
function drivesByRevision(family: FamilyRecord, snapshot: Snapshot): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const one of referrersOf(family.id, snapshot)) {
    if (one.kind !== 'drive' || one.data.family !== family.id || isRetracted(one)) continue;
    const name = revisionName(one.data.board?.id, one.data.board?.rev);
    counts.set(name, (counts.get(name) ?? 0) + 1);
  }
  return counts;
}

function revisionName(board: string | undefined, rev: string | undefined): string {
  return JSON.stringify([board, rev === undefined ? undefined : foldText(rev)]);
}

/** What was tried of that which follows from several claims. */
function followingWords(board: string, claims: readonly InterchangeClaim[]): string[] {
  const following = claims.filter(({ isClaimed }) => !isClaimed);
  if (following.length === 0) return [];
  const said = following.map((claim) => `\`${claim.rev}\` for \`${claim.standsFor}\`, ${standingWords(claim)}`);
  return [`From the claims of \`${board}\` it also follows: ${said.join('; ')}.`];
}
