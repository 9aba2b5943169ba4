import { evaluateAtom } from '../conditions/evaluate.ts';
import { romTravels } from '../conditions/rom-travels.ts';
import type { Swap } from '../conditions/swap.ts';
import { type Derivation, derive } from '../index/derivation.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { findSorted, replaceSorted } from '../index/sorted.ts';
import type { Rule } from '../reasoning/rule.ts';
import { type RuleResult, ruleResults } from '../reasoning/rule-results.ts';
import { remembered } from '../terms/remembered.ts';
import { isAtLeast } from '../terms/stages.ts';
import { allEvidence, changedEvidence, type Evidence, outcomeIdOf } from '../verdicts/evidence.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleBase } from './example-base.ts';

const bench = {
  ...exampleBase,
  'boards/w100.yaml':
    'kind: board\nid: w100\nmaker: wren\npart_number: W100\nrevisions: [{rev: A}, {rev: B, drop_in_for: [A]}]\n',
  'drives/tern.yaml':
    'kind: drive\nid: d-0117\nfamily: tern-2\nboard: {id: w100, rev: A}\n---\nkind: drive\nid: d-0118\nfamily: tern-2\nboard: {id: w100, rev: B}\n',
};

/** The start of a swap of the two in which every control is in place. */
const controlled =
  'kind: outcome\nid: one\ndate: 2026-03-14\npatient: d-0117\ndonor: d-0118\nrom: left\ncontrols: {swapped_back: both_work}\n';

/** A failure that a claimed interchange of revisions says should have worked. */
export const interchangeDisagrees = defineCheck({
  check: 'interchange-disagrees',
  group: 'across',
  severity: 'warning',
  scope: 'base',
  why: 'A claim that one revision works in place of another comes from a manual or a dealer, and donors are bought on it. A controlled failure that nothing else explains says that the claim is wrong, or that it holds under a condition nobody has written down.',
  examples: () => [
    {
      title: 'The newer revision fails where it is said to fit',
      files: {
        ...bench,
        'outcomes/one.yaml': `${controlled}reached: spins
#        ^^^^^ interchange-disagrees: Outcome \`one\` fails at \`reads\`, though \`w100/B\` of donor \`d-0118\` is claimed to be a drop-in for \`w100/A\` of patient \`d-0117\`, the ROM travelled, and no law explains the failure.
result: fails
`,
      },
    },
    {
      title: 'A law explains the failure',
      files: {
        ...bench,
        'drives/tern.yaml': bench['drives/tern.yaml']
          .replace('rev: A}', 'rev: A, sticker: x}')
          .replace('rev: B}', 'rev: B, sticker: z}'),
        'rules/tern.yaml':
          'kind: rule\nid: tern-stickers\nclaim: prevents\nwhen: {different: [sticker]}\nstage: ready\n',
        'outcomes/one.yaml': `${controlled}reached: spins\nresult: fails\n`,
      },
    },
    {
      title: 'The other way round nothing is claimed',
      files: {
        ...bench,
        'outcomes/one.yaml': `${controlled.replace('patient: d-0117\ndonor: d-0118', 'patient: d-0118\ndonor: d-0117')}reached: spins\nresult: fails\n`,
      },
    },
  ],
  *run(snapshot: Snapshot) {
    const laws = lawsByFamily(snapshot);
    for (const { outcome, swap } of derive(failedInterchanges, snapshot)) {
      if (!swap) continue;
      const ofFamily = [...(laws.get(undefined) ?? []), ...(laws.get(swap.patient.drive.data.family) ?? [])];
      const isForetold = ofFamily.some((law) => foretellingsOf(law).sure.has(outcome.id));
      const open = ofFamily.filter((law) => foretellingsOf(law).open.has(outcome.id));
      if (!isForetold)
        yield describe(
          swap,
          open.map(({ rule }) => rule),
          snapshot,
        );
    }
  },
});

/** Failures at `works_at` of what is claimed to be an interchange, by outcome id. */
const failedInterchanges: Derivation<readonly Evidence[]> = {
  name: 'failed interchanges',
  compute: (snapshot) => allEvidence(snapshot).filter((evidence) => isFailedInterchange(evidence, snapshot)),
  update: (value, changes) => {
    const { after } = changes;
    return replaceSorted(value, changedEvidence(changes), outcomeIdOf, (id) => {
      const one = findSorted(allEvidence(after), id, outcomeIdOf);
      return one && isFailedInterchange(one, after) ? one : undefined;
    });
  },
};

function isFailedInterchange(evidence: Evidence, { config }: Snapshot): boolean {
  return evidence.verdicts[config.worksAt].result === 'fails' && isClaimedInterchange(evidence);
}

/** Whether the donor's revision is claimed to do for the patient's, and everything the claim asks for was done. */
function isClaimedInterchange({ swap }: Evidence): boolean {
  return (
    swap !== undefined &&
    evaluateAtom({ test: 'drop_in' }, swap) === true &&
    evaluateAtom({ test: 'same', key: 'rev' }, swap) === false &&
    romTravels(swap) === true
  );
}

/** The laws of `works_at` or lower that may foretell a failure, by the families they are about; under undefined those about any. */
function lawsByFamily(snapshot: Snapshot): ReadonlyMap<string | undefined, readonly RuleResult[]> {
  const laws = new Map<string | undefined, RuleResult[]>();
  for (const result of ruleResults(snapshot)) {
    const { claim, atLeast, stage, record } = result.rule;
    if (claim === 'enough' || atLeast !== undefined || !isAtLeast(snapshot.config.worksAt, stage)) continue;
    const families = record.data.applies_to?.families ?? [];
    for (const family of families.length === 0 ? [undefined] : new Set(families)) {
      const known = laws.get(family);
      if (known) known.push(result);
      else laws.set(family, [result]);
    }
  }
  return laws;
}

/** The failures a law foretold, and those it may have foretold had more been recorded. It has to have failed at the law's own stage. */
const foretellingsOf = remembered(({ rule, support, undecided }: RuleResult) => {
  const failed = support.filter(({ verdicts }) => verdicts[rule.stage].result === 'fails');
  const open = undecided.filter(({ verdicts }) => verdicts[rule.stage].result !== 'works');
  return { sure: new Set(failed.map(outcomeIdOf)), open: new Set(open.map(outcomeIdOf)) };
});

/** Laws that a finding points to. */
const mostRelated = 3;

function describe({ outcome, patient, donor }: Swap, undecided: readonly Rule[], snapshot: Snapshot): Draft {
  const { board, revision } = donor;
  const nameOf = (side: typeof donor): string => `\`${side.drive.data.board?.id}/${side.drive.data.board?.rev}\``;
  const position = revision ? (board?.data.revisions?.indexOf(revision) ?? -1) : -1;
  const claim =
    board && position >= 0
      ? [
          {
            at: { record: board, path: ['revisions', position, 'drop_in_for'], side: 'value' },
            message: 'The claim.',
          } as const,
        ]
      : [];
  return {
    at: { record: outcome, path: ['reached'], side: 'value' },
    message: `Outcome \`${outcome.id}\` fails at \`${snapshot.config.worksAt}\`, though ${nameOf(donor)} of donor \`${donor.drive.id}\` is claimed to be a drop-in for ${nameOf(patient)} of patient \`${patient.drive.id}\`, the ROM travelled, and no law explains the failure.`,
    help: 'Check the claim and the bench notes; where the claim holds under a condition only, write a rule that says so.',
    related: [
      ...claim,
      ...undecided.slice(0, mostRelated).map(
        ({ record }) =>
          ({
            at: { record, path: ['claim'], side: 'value' },
            message: `Rule \`${record.id}\` may explain it, but too little is recorded to say.`,
          }) as const,
      ),
    ],
  };
}
