import type { Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, hasUnusable, isRetracted, type OutcomeRecord } from '../model/record.ts';
import type { Missing } from '../verdicts/eligibility.ts';
import { type Evidence, evidenceOf, evidenceTable } from '../verdicts/evidence.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleFamily } from './example-base.ts';

const bench = {
  ...exampleFamily(),
  'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
---
kind: drive
id: d-0118
family: tern-2
---
kind: drive
id: d-0301
family: tern-2
parts: board_only
`,
};

/** A failure that proves nothing because a control was not made, or not recorded. */
export const controlMissing = defineCheck({
  check: 'control-missing',
  group: 'record',
  severity: 'info',
  scope: 'record',
  restsOn: [evidenceTable],
  kinds: ['outcome'],
  why: 'A swap that failed says something about board and drive only if both are shown to be good by themselves, and the ROM data to have arrived, on a host that suits the drive. Without that it is inconclusive: it decides no rule and counts in no odds.',
  examples: () => [
    {
      title: 'Nobody tried the donor on its own drive',
      files: {
        ...bench,
        'outcomes/one.yaml': `kind: outcome
id: one
date: 2026-03-14
patient: d-0117
donor: d-0118
rom: left
controls:
  donor_on_own_board: not_tested
#                     ^^^^^^^^^^ control-missing: Outcome \`one\` reached \`spins\` and counts as inconclusive instead of failed, because nothing shows the donor's board good at \`reads\` on its own drive.
  patient_on_own_board: works
reached: spins
result: inconclusive
`,
      },
    },
    {
      title: 'Every control is there: the swap failed, and that is known',
      files: {
        ...bench,
        'outcomes/one.yaml':
          'kind: outcome\nid: one\ndate: 2026-03-14\npatient: d-0117\ndonor: d-0118\nrom: left\ncontrols: {donor_on_own_board: works, patient_on_own_board: works}\nreached: spins\nresult: fails\n',
      },
    },
    {
      title: 'A loose board has no drive of its own, so there is no control to ask for',
      files: {
        ...bench,
        'outcomes/one.yaml':
          'kind: outcome\nid: one\ndate: 2026-03-14\npatient: d-0117\ndonor: d-0301\nrom: left\ncontrols: {patient_on_own_board: works}\nreached: spins\nresult: inconclusive\n',
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    if (record.kind !== 'outcome' || isRetracted(record)) return;
    // A result that does not follow from what was reached is told by `result-disagrees`, with what a failure lacks.
    if (record.data.result === 'fails' || record.data.result === 'works') return;
    const evidence = evidenceOf(record, snapshot);
    const missing = missingControls(evidence, snapshot);
    if (missing.length > 0) yield describe(record, missing);
  },
});

/** What a failure lacks at `works_at` and could still be given; empty where it is no failure, or one that no control can mend. */
function missingControls({ outcome, swap, verdicts }: Evidence, snapshot: Snapshot): readonly Missing[] {
  const verdict = verdicts[snapshot.config.worksAt];
  if (verdict.result !== 'inconclusive' || !swap || hasReportedFault(outcome, snapshot)) return [];
  const isHopeless = verdict.missing.some(
    ({ what }) =>
      what === 'damage' ||
      what === 'record' ||
      (what === 'donor_proof' &&
        (outcome.data.controls?.donor_on_own_board === 'fails' || swap.donor.drive.data.parts === 'board_only')),
  );
  return isHopeless ? [] : verdict.missing;
}

/** Whether what is missing stands in the record and was reported there: as unusable, or as an outcome that is not recorded. */
function hasReportedFault(outcome: OutcomeRecord, snapshot: Snapshot): boolean {
  const proof = outcome.data.controls?.hda_proved_by;
  const isDangling = proof !== undefined && !snapshot.find('outcome', proof);
  return isDangling || (['controls', 'rom', 'rom_proved', 'host'] as const).some((key) => hasUnusable(outcome, key));
}

function describe(record: OutcomeRecord, missing: readonly Missing[]): Draft {
  const at = ({ path }: Missing) => ({ record, path, side: 'value' }) as const;
  // Several needs of the host belong in one place.
  const [first, ...others] = new Map(missing.map((one) => [one.path.join('.'), one])).values();
  return {
    at: first ? at(first) : { record, path: ['reached'], side: 'value' },
    message: `Outcome \`${record.id}\` reached \`${record.data.reached}\` and counts as inconclusive instead of failed, because ${joined(missing)}.`,
    help: 'Record the controls that were made; those that were not can often be made up for, on the same host and port.',
    related: others.map((one) => ({ at: at(one), message: `\`${one.path.at(-1)}\` belongs here.` })),
  };
}

function joined(missing: readonly Missing[]): string {
  const says = missing.map((one) => one.says);
  const last = says.pop() ?? '';
  return says.length === 0 ? last : `${says.join(', ')}, and ${last}`;
}
