import type { Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, hasUnusable, type OutcomeRecord } from '../model/record.ts';
import { isAtLeast, type Stage } from '../terms/stages.ts';
import { evidenceOf, evidenceTable, type Verdict } from '../verdicts/evidence.ts';
import { limitsBelow } from '../verdicts/observed-limits.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleOutcome, examplePair } from './example-base.ts';

/** A recorded result that is not the verdict its own record gives. */
export const resultDisagrees = defineCheck({
  check: 'result-disagrees',
  group: 'record',
  severity: 'error',
  scope: 'record',
  restsOn: [evidenceTable],
  kinds: ['outcome'],
  why: 'Whoever reads the record believes its `result`; rules and rates go by what was reached and which controls were in place. A failure without controls that calls itself `fails` would talk everybody out of a board that may be perfectly good.',
  examples: () => [
    {
      title: 'It read, which in this base is working',
      files: {
        ...examplePair,
        'outcomes/one.yaml': `kind: outcome
id: one
date: 2026-03-14
patient: d-0117
donor: d-0118
rom: left
reached: reads
result: fails
#       ^^^^^ result-disagrees: Outcome \`one\` says \`fails\`, but it reached \`reads\`, and this base counts \`reads\` as working.
`,
      },
    },
    { title: 'The result follows', files: { ...examplePair, 'outcomes/one.yaml': exampleOutcome('') } },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    if (record.kind !== 'outcome') return;
    const { result, reached } = record.data;
    const { worksAt } = snapshot.config;
    const { swap, verdicts } = evidenceOf(record, snapshot);
    if (result === undefined || reached === undefined || !swap) return;
    const verdict = verdicts[worksAt];
    if (verdict.result === result || restsOnFault(record, verdict, snapshot)) return;
    // Where the observations allow less than what was reached, the result may follow from them: that fault is another check's.
    const [lowest] = limitsBelow(record, snapshot);
    if (lowest && resultAt(lowest.allows, worksAt, verdict) === result) return;
    yield describe(record, verdict, worksAt);
  },
});

/** Whether an inconclusive verdict may come from a value that could not be read or a record that is missing, which is reported there. */
function restsOnFault(record: OutcomeRecord, verdict: Verdict, snapshot: Snapshot): boolean {
  if (verdict.result !== 'inconclusive' || record.data.result !== 'fails') return false;
  const proof = record.data.controls?.hda_proved_by;
  return (
    verdict.missing.some(({ what }) => what === 'record') ||
    ['controls', 'rom', 'rom_proved', 'host'].some((key) => hasUnusable(record, key)) ||
    (proof !== undefined && !snapshot.find('outcome', proof))
  );
}

function resultAt(reached: Stage, worksAt: Stage, { isEligible }: Verdict): Verdict['result'] {
  if (isAtLeast(reached, worksAt)) return 'works';
  return isEligible ? 'fails' : 'inconclusive';
}

function describe(record: OutcomeRecord, verdict: Verdict, worksAt: Stage): Draft {
  return {
    at: { record, path: ['result'], side: 'value' },
    message: `Outcome \`${record.id}\` says \`${record.data.result}\`, but ${seen(record, verdict, worksAt)}.`,
    help: `Record \`${verdict.result}\`, or correct what it follows from.`,
    related: [{ at: { record, path: ['reached'], side: 'value' }, message: 'What it reached.' }],
    fixes: [
      {
        title: `Record \`${verdict.result}\``,
        kind: 'ask',
        changes: [{ intent: 'set', path: ['result'], value: verdict.result }],
      },
    ],
  };
}

function seen({ data }: OutcomeRecord, { result, missing }: Verdict, worksAt: Stage): string {
  const reached = `it reached \`${data.reached}\``;
  if (result === 'works') return `${reached}, and this base counts \`${worksAt}\` as working`;
  const below = `${reached}, below the \`${worksAt}\` this base counts as working`;
  if (data.result === 'works') return below;
  if (result === 'fails') return `${below}, with every control in place`;
  return `a failure counts only with every control in place: ${missing.map(({ says }) => says).join('; ')}`;
}
