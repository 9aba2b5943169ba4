import type { Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, type DriveRecord, hasUnusable, isRetracted } from '../model/record.ts';
import type { Path } from '../syntax/tape.ts';
import { type Day, isAhead } from '../terms/calendar.ts';
import { evidenceTable } from '../verdicts/evidence.ts';
import { type Doubt, doubtsAbout, usesByDrive } from '../verdicts/part-doubts.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleFamily } from './example-base.ts';

const bench = exampleFamily();
const swappedBack = 'controls: {donor_on_own_board: works, patient_on_own_board: works, swapped_back: donor_fails}';

/** A part that is recorded as good or spare, against what an outcome shows. */
export const conditionDisagrees = defineCheck({
  check: 'condition-disagrees',
  group: 'record',
  severity: 'warning',
  scope: 'record',
  restsOn: [usesByDrive, evidenceTable],
  kinds: ['drive'],
  why: 'Donors are picked by their recorded condition. A board that was damaged in its last swap, or is still screwed to another drive, costs whoever counts on it a trial, and a damaged one may cost the patient more.',
  examples: () => [
    {
      title: 'Good on paper, dead since the last swap',
      files: {
        ...bench,
        'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
---
kind: drive
id: d-0118
family: tern-2
condition: {board: good, as_of: 2026-03-01}
#                  ^^^^ condition-disagrees: Board of drive \`d-0118\` is recorded \`good\`, but outcome \`one\` says that the drive no longer worked on its own board when swapped back.
`,
        'outcomes/one.yaml': `kind: outcome
id: one
date: 2026-03-14
patient: d-0117
donor: d-0118
rom: left
${swappedBack}
reached: spins
result: inconclusive
`,
      },
    },
    {
      title: 'Offered as spare while its board sits on another drive',
      files: {
        ...bench,
        'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
---
kind: drive
id: d-0118
family: tern-2
shelf: {spare: true}
#              ^^^^ condition-disagrees: Drive \`d-0118\` is recorded as spare, but outcome \`one\` says that its board was put on patient \`d-0117\` and not swapped back.
`,
        'outcomes/one.yaml':
          'kind: outcome\nid: one\ndate: 2026-03-14\npatient: d-0117\ndonor: d-0118\nrom: left\ncontrols: {swapped_back: not_done}\nreached: reads\nresult: works\n',
      },
    },
    {
      title: 'The condition is newer than the swap',
      files: {
        ...bench,
        'drives/tern.yaml':
          'kind: drive\nid: d-0117\nfamily: tern-2\n---\nkind: drive\nid: d-0118\nfamily: tern-2\ncondition: {board: good, as_of: 2026-03-15}\n',
        'outcomes/one.yaml': `kind: outcome
id: one
date: 2026-03-14
patient: d-0117
donor: d-0118
rom: left
${swappedBack}
reached: spins
result: inconclusive
`,
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot, today: Day) {
    if (record.kind !== 'drive' || isRetracted(record)) return;
    const claims = claimsOf(record);
    if (claims.length === 0) return;
    const { as_of: asOf } = record.data.condition ?? {};
    // Whether an outcome dated ahead came after the entry is not known; its date was reported.
    const doubts = doubtsAbout(record, asOf, snapshot).filter(
      ({ outcome }) => asOf === undefined || !isAhead(outcome.data.date, today),
    );
    for (const claim of claims) {
      const doubt = doubts.findLast(({ about }) => claim.fallsBy.includes(about));
      if (doubt) yield describe(record, claim, doubt);
    }
  },
});

/** Something a drive's record says of a part, and the doubts it cannot stand beside. */
interface Claim {
  readonly path: Path;
  /** Begins the message. */
  readonly says: string;
  readonly fallsBy: readonly Doubt['about'][];
}

/** A condition that could not be read in full claims nothing. */
function claimsOf(drive: DriveRecord): Claim[] {
  if (hasUnusable(drive, 'condition')) return [];
  const { condition: { board, media } = {}, shelf, parts } = drive.data;
  const place: readonly Doubt['about'][] = parts === 'hda_only' ? [] : ['place'];
  const claims: Claim[] = [];
  if (board === 'good') {
    // A drive that failed as a whole has a bad half; only where both are called good must one of them be wrong.
    const fallsBy: Claim['fallsBy'] = media === 'good' ? ['board', ...place, 'drive'] : ['board', ...place];
    claims.push({ path: ['condition', 'board'], says: `Board of drive \`${drive.id}\` is recorded \`good\``, fallsBy });
  } else if (shelf?.spare === true && board !== 'faulty') {
    const says = `Drive \`${drive.id}\` is recorded as spare`;
    claims.push({ path: ['shelf', 'spare'], says, fallsBy: ['board', ...place] });
  }
  if (media === 'good') {
    const says = `Heads and platters of drive \`${drive.id}\` are recorded \`good\``;
    claims.push({ path: ['condition', 'media'], says, fallsBy: ['media'] });
  }
  return claims;
}

function describe(record: DriveRecord, { path, says }: Claim, doubt: Doubt): Draft {
  const { outcome } = doubt;
  return {
    at: { record, path, side: 'value' },
    message: `${says}, but outcome \`${outcome.id}\` says that ${doubt.says}.`,
    help: 'Examine the part, then correct the entry, or give `condition` an `as_of` after that outcome.',
    related: [{ at: { record: outcome, path: doubt.path, side: 'value' }, message: `Outcome \`${outcome.id}\`.` }],
  };
}
