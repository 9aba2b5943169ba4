import type { Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, type DriveRecord, hasUnusable, type OutcomeRecord } from '../model/record.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleFamily } from './example-base.ts';

const bench = {
  ...exampleFamily(),
  'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
data: wanted
---
kind: drive
id: d-0118
family: tern-2
---
kind: drive
id: d-0119
family: tern-2
data: test
`,
};

/** A test that writes, or may write, on platters whose data somebody may want. */
export const writingTestOnWantedData = defineCheck({
  check: 'writing-test-on-wanted-data',
  group: 'record',
  severity: 'error',
  alsoSeverity: 'warning',
  scope: 'record',
  kinds: ['outcome'],
  why: 'A writing test destroys what it tests, and a scrub that may repair can overwrite the last good copy of a block with a wrong guess. Data that nobody has called test data or none is treated as wanted; where it matters to anyone, the drive belongs in a professional recovery lab.',
  examples: () => [
    {
      title: 'A pattern written over wanted data',
      files: {
        ...bench,
        'outcomes/one.yaml': `kind: outcome
id: one
date: 2026-03-14
patient: d-0117
donor: d-0119
reached: verified
result: works
verify:
  - {method: write_pass, bytes: 500107862016, errors: 0}
#            ^^^^^^^^^^ writing-test-on-wanted-data: Outcome \`one\` ran \`write_pass\`, which destroys data, on patient \`d-0117\`, whose \`data\` is \`wanted\`; a writing test needs \`test\` or \`none\` there.
`,
      },
    },
    {
      title: 'A scrub that was free to repair; nobody said what is on the drive',
      files: {
        ...bench,
        'outcomes/one.yaml': `kind: outcome
id: one
date: 2026-03-14
patient: d-0118
donor: d-0119
reached: verified
result: works
verify:
  - {method: checksum_scrub, bytes: 68719476736, errors: 0}
#            ^^^^^^^^^^^^^^ writing-test-on-wanted-data: Outcome \`one\` scrubbed patient \`d-0118\`, whose \`data\` is not recorded and so counts as wanted, without \`read_only: true\`; a scrub that may repair writes.
`,
      },
    },
    {
      title: 'A pattern written over test data, and a scrub that could not write',
      files: {
        ...bench,
        'outcomes/two.yaml': `kind: outcome
id: two
date: 2026-03-14
patient: d-0119
donor: d-0117
reached: verified
result: works
verify: [{method: write_pass, bytes: 500107862016, errors: 0}]
---
kind: outcome
id: three
date: 2026-03-15
patient: d-0117
donor: d-0119
reached: verified
result: works
verify: [{method: checksum_scrub, bytes: 68719476736, errors: 0, read_only: true}]
`,
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    if (record.kind !== 'outcome') return;
    const { verify = [] } = record.data;
    const patient = verify.length > 0 ? snapshot.find('drive', record.data.patient) : undefined;
    if (!patient || !mayBeWanted(patient)) return;
    for (const [position, { method, read_only: readOnly }] of verify.entries()) {
      const mayWrite = readOnly !== true && !hasUnusable(record, 'verify', position, 'read_only');
      if (method === 'write_pass') yield writingTest(record, position, patient);
      else if (method === 'checksum_scrub' && mayWrite) yield writingScrub(record, position, patient);
    }
  },
});

/** Data nobody has spoken of counts as wanted; a value that cannot be read has been reported where it stands. */
function mayBeWanted(patient: DriveRecord): boolean {
  const { data } = patient.data;
  return data === 'wanted' || (data === undefined && !hasUnusable(patient, 'data'));
}

function writingTest(outcome: OutcomeRecord, position: number, patient: DriveRecord): Draft {
  return {
    ...placed(outcome, position, patient),
    message: `Outcome \`${outcome.id}\` ran \`write_pass\`, which destroys data, on patient \`${patient.id}\`, ${whoseData(patient)}; a writing test needs \`test\` or \`none\` there.`,
    help: 'If nobody wants what was on the drive, record that under its `data`; if another test was run, correct the `method`.',
  };
}

function writingScrub(outcome: OutcomeRecord, position: number, patient: DriveRecord): Draft {
  return {
    ...placed(outcome, position, patient),
    severity: 'warning',
    message: `Outcome \`${outcome.id}\` scrubbed patient \`${patient.id}\`, ${whoseData(patient)}, without \`read_only: true\`; a scrub that may repair writes.`,
    help: 'If writing was impossible, record `read_only: true`; make an image before any further scrub.',
  };
}

function placed(outcome: OutcomeRecord, position: number, patient: DriveRecord): Pick<Draft, 'at' | 'related'> {
  return {
    at: { record: outcome, path: ['verify', position, 'method'], side: 'value' },
    related: [{ at: { record: patient, path: ['data'], side: 'value' }, message: `The patient, \`${patient.id}\`.` }],
  };
}

function whoseData(patient: DriveRecord): string {
  return patient.data.data === undefined
    ? 'whose `data` is not recorded and so counts as wanted'
    : 'whose `data` is `wanted`';
}
