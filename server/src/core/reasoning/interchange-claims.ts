/**
 * What a board claims of its revisions, and what the swaps of a family say to that.
 * Laws (test/property/interchange-claims.property.test.ts):
 * - every claim of a board is listed once, and nothing else is as claimed
 * - every decided swap of a claimed interchange is in one place
 */

import type { Snapshot } from '../index/snapshot.ts';
import type { BoardRecord } from '../model/record.ts';
import { addTo } from '../terms/grouped.ts';
import { remembered, rememberedWithin } from '../terms/remembered.ts';
import { foldText } from '../text/fold.ts';
import type { Evidence } from '../verdicts/evidence.ts';
import { evidenceByFamily } from '../verdicts/evidence-by-family.ts';
import { isClaimedInterchange, unexplainedInterchanges } from './unexplained-interchanges.ts';

/** That one revision of a board works in place of another. */
export interface InterchangeClaim {
  /** The revision of the donor, and the one it is said to do for, as the board writes them. */
  readonly rev: string;
  readonly standsFor: string;
  /** Whether the board says so; false for what follows from several claims, and then only where it was tried. */
  readonly isClaimed: boolean;
  /** Outcomes whose ROM travelled that worked at `works_at`. */
  readonly worked: number;
  /** Those that failed and that no law explains. */
  readonly failed: number;
  /** Those that failed as a law says. */
  readonly explained: number;
}

/** The claims of a board with the outcomes of a family; in the order of the board, then what follows from several by revision. */
export function interchangeClaims(board: BoardRecord, family: string, snapshot: Snapshot): readonly InterchangeClaim[] {
  const claims = new Map<string, Mutable>();
  for (const { rev, drop_in_for: others = [] } of board.data.revisions ?? []) {
    if (rev === undefined) continue;
    for (const standsFor of others) claimOf(claims, rev, standsFor).isClaimed = true;
  }
  const tried = evidenceByFamily(snapshot).get(family);
  for (const { swap, verdicts } of (tried && interchangesByBoard(tried, snapshot).get(board.id)) ?? []) {
    const [rev, standsFor] = [swap?.donor.drive.data.board?.rev, swap?.patient.drive.data.board?.rev];
    const { result } = verdicts[snapshot.config.worksAt];
    if (!swap || rev === undefined || standsFor === undefined || result === 'inconclusive') continue;
    const claim = claimOf(claims, rev, standsFor);
    if (result === 'works') claim.worked++;
    else if (unexplainedIds(snapshot).has(swap.outcome.id)) claim.failed++;
    else claim.explained++;
  }
  return [...claims.values()];
}

type Mutable = { -readonly [Key in keyof InterchangeClaim]: InterchangeClaim[Key] };

function claimOf(claims: Map<string, Mutable>, rev: string, standsFor: string): Mutable {
  const name = JSON.stringify([foldText(rev), foldText(standsFor)]);
  const claim = claims.get(name) ?? { rev, standsFor, isClaimed: false, worked: 0, failed: 0, explained: 0 };
  claims.set(name, claim);
  return claim;
}

const unexplainedIds = remembered(
  (snapshot: Snapshot): ReadonlySet<string> =>
    new Set(unexplainedInterchanges(snapshot).map(({ evidence }) => evidence.outcome.id)),
);

/** The swaps of claimed interchanges among the outcomes of a family, by board. */
const interchangesByBoard = rememberedWithin((evidence: readonly Evidence[], _snapshot: Snapshot) => {
  const byBoard = new Map<string, Evidence[]>();
  for (const one of evidence) {
    const board = one.swap?.patient.board?.id;
    if (board !== undefined && isClaimedInterchange(one)) addTo(byBoard, board, one);
  }
  return byBoard;
});
