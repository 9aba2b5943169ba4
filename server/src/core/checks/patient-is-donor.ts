import type { AnyRecord } from '../model/record.ts';
import { defineCheck } from './define-check.ts';
import { exampleFamily } from './example-base.ts';

/** An outcome that gives a drive its own board. */
export const patientIsDonor = defineCheck({
  check: 'patient-is-donor',
  group: 'structure',
  severity: 'error',
  scope: 'record',
  kinds: ['outcome'],
  why: 'A drive on its own board is a control, not a swap. Counted as one it would support every rule that asks for equal parts.',
  examples: () => [
    {
      title: 'A drive on its own board',
      files: {
        ...exampleFamily(),
        'drives/tern.yaml': 'kind: drive\nid: d-0117\nfamily: tern-2\n',
        'outcomes/one.yaml': `kind: outcome
id: one
date: 2026-03-14
patient: d-0117
donor: d-0117
#      ^^^^^^ patient-is-donor: Outcome \`one\` names \`d-0117\` as patient and as donor; a swap takes two drives.
reached: reads
result: works
`,
      },
    },
    {
      title: 'Two drives',
      files: {
        ...exampleFamily(),
        'drives/tern.yaml': 'kind: drive\nid: d-0117\nfamily: tern-2\n---\nkind: drive\nid: d-0118\nfamily: tern-2\n',
        'outcomes/one.yaml':
          'kind: outcome\nid: one\ndate: 2026-03-14\npatient: d-0117\ndonor: d-0118\nreached: reads\nresult: works\n',
      },
    },
  ],
  *run(record: AnyRecord) {
    if (record.kind !== 'outcome') return;
    const { patient, donor } = record.data;
    if (patient === undefined || patient !== donor) return;
    yield {
      at: { record, path: ['donor'], side: 'value' },
      message: `Outcome \`${record.id}\` names \`${donor}\` as patient and as donor; a swap takes two drives.`,
      help: 'Record a drive on its own board under `controls`.',
      related: [{ at: { record, path: ['patient'], side: 'value' }, message: 'The patient.' }],
    };
  },
});
