import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord, OutcomeRecord } from '../model/record.ts';
import type { Stage } from '../terms/stages.ts';
import { inThousands } from '../text/in-thousands.ts';
import { type Limit, limitsBelow } from '../verdicts/observed-limits.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleOutcome, examplePair } from './example-base.ts';

/** A stage that the outcome's own observations rule out. */
export const reachedWithoutObservation = defineCheck({
  check: 'reached-without-observation',
  group: 'record',
  severity: 'error',
  scope: 'record',
  kinds: ['outcome'],
  why: 'Every rule and every rate is counted by `reached`. A swap credited with reading although only noise came back teaches the next technician that the board fits, and the data of the next customer pays for it.',
  examples: () => [
    {
      title: 'Noise was read, which is a drive detected and no more',
      files: {
        ...examplePair,
        'outcomes/one.yaml': `kind: outcome
id: one
date: 2026-03-14
patient: d-0117
donor: d-0118
rom: left
observed: {spins: true, sound: normal, reads: true, content: noise}
reached: reads
#        ^^^^^ reached-without-observation: Outcome \`one\` is said to have reached \`reads\`, but \`content: noise\` allows \`detected\` at most.
result: works
`,
      },
    },
    {
      title: 'Verified, though nothing was compared',
      files: {
        ...examplePair,
        'outcomes/one.yaml': `kind: outcome
id: one
date: 2026-03-14
patient: d-0117
donor: d-0118
rom: left
verify: [{method: read_pass, bytes: 1000000000000, errors: 0}]
reached: verified
#        ^^^^^^^^ reached-without-observation: Outcome \`one\` is said to have reached \`verified\`, but the absence of a comparing row under \`verify\` allows \`reads\` at most.
result: works
`,
      },
    },
    {
      title: 'What nobody noted down contradicts nothing, and an observation above the stage is no fault',
      files: {
        ...examplePair,
        'outcomes/one.yaml': exampleOutcome('observed: {spins: true}\nverify: [{method: hash_compare}]\n'),
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    if (record.kind !== 'outcome') return;
    const limits = limitsBelow(record, snapshot);
    const lowest = limits[0];
    if (lowest) yield describe(record, limits, lowest);
  },
});

function describe(record: OutcomeRecord, limits: readonly Limit[], { allows }: Limit): Draft {
  const says = limits.map((limit) => limit.says);
  const all = [says.slice(0, -1).join(', '), says.at(-1)].filter((part) => part !== '').join(' and ');
  return {
    at: { record, path: ['reached'], side: 'value' },
    message: `Outcome \`${record.id}\` is said to have reached \`${record.data.reached}\`, but ${all} ${says.length === 1 ? 'allows' : 'allow'} \`${allows}\` at most.`,
    help: helpWith(limits, allows),
    related: limits
      .filter(({ path }) => path.length > 1)
      .map(({ path }) => ({ at: { record, path, side: 'value' }, message: 'Recorded here.' })),
  };
}

function helpWith(limits: readonly Limit[], allows: Stage): string {
  const missing = limits.length === 1 ? limits[0]?.missingBytes : undefined;
  const more = missing === undefined ? '' : ` compare ${inThousands(missing)} bytes more without error,`;
  return `Record \`${allows}\`,${more} or correct what was observed.`;
}
