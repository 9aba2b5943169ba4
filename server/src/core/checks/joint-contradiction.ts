import { findRevision } from '../conditions/swap.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { describeJointSet } from '../reasoning/describe-joint-set.ts';
import { type JointSet, jointResults, type Removal } from '../reasoning/joint-contradictions.ts';
import { components } from '../reasoning/joint-groups.ts';
import { severityOf } from '../reasoning/rule.ts';
import type { Share } from '../solver/recorded-swap.ts';
import { inARow } from '../text/in-a-row.ts';
import { isRuledOut } from '../verdicts/observed-limits.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleBase } from './example-base.ts';

/** Three drives, each of whose boards was put on another; what is fitted inside them nobody recorded. */
const chain = {
  ...exampleBase,
  'swaplore.yaml': 'swaplore: 1\nseverity: {rule-untested: off}\n',
  'drives/tern.yaml': ['a', 'b', 'c'].map((id) => drive(id)).join('---\n'),
  'rules/tern.yaml': `kind: rule
id: tern-enough
applies_to: {families: [tern-2]}
claim: enough
when: {same: [preamp, rev]}
basis: measured
---
kind: rule
id: tern-preamp
applies_to: {families: [tern-2]}
claim: needs
when: {same: [preamp]}
basis: measured
`,
  'boards/kestrel.yaml': board(''),
};

/** Outcomes that cannot all be right together, though none breaks a rule by itself. */
export const jointContradiction = defineCheck({
  check: 'joint-contradiction',
  group: 'across',
  severity: 'error',
  alsoSeverity: 'warning',
  scope: 'base',
  restsOn: [components],
  why: 'Each of the records passes by itself, so nobody would look at them again; but whatever the values that were not recorded are, one record or one rule is wrong. The set is minimal: whichever of it is given up, the others can be right.',
  examples: () => [
    {
      title: 'The board of `a` works on `b` and that of `b` on `c`, but that of `a` not on `c`',
      files: {
        ...chain,
        'outcomes/chain.yaml': `${works('ab', 'b', 'a')}---\n${works('bc', 'c', 'b')}---
kind: outcome
id: ca
date: 2026-03-14
patient: c
donor: a
rom: left
host: {port: onboard}
controls: {donor_on_own_board: works, patient_on_own_board: works}
reached: ready
#        ^^^^^ joint-contradiction: Outcomes \`ab\`, \`bc\` and \`ca\` cannot all be right if rules \`tern-enough\` and \`tern-preamp\` hold: \`ca\` fails at \`reads\`, which by \`tern-enough\` rules out \`same: [preamp], same: [rev]\`; \`ab\` and \`bc\` work at \`reads\`, which by \`tern-preamp\` takes \`same: [preamp]\`.
result: fails
`,
      },
    },
    {
      title: 'One control of the failure is missing, so it proves nothing',
      files: {
        ...chain,
        'swaplore.yaml': 'swaplore: 1\nseverity: {control-missing: off, rule-untested: off}\n',
        'outcomes/chain.yaml': `${works('ab', 'b', 'a')}---\n${works('bc', 'c', 'b')}---
kind: outcome
id: ca
date: 2026-03-14
patient: c
donor: a
rom: left
host: {port: onboard}
controls: {donor_on_own_board: works}
reached: ready
result: inconclusive
`,
      },
    },
  ],
  *run(snapshot: Snapshot) {
    for (const result of jointResults(snapshot)) {
      if (!result) yield undefined;
      for (const set of result?.sets ?? []) {
        if (!restsOnFault(set, snapshot)) yield describe(set, result?.removal, snapshot);
      }
    }
  },
});

function drive(id: string): string {
  return `kind: drive\nid: ${id}\nfamily: tern-2\nboard: {id: kestrel, rev: A1}\n`;
}

function board(more: string): string {
  return `kind: board\nid: kestrel\nmaker: wren\npart_number: K 1\nfamilies: [tern-2]\nrevisions: [{rev: A1${more}}]\n`;
}

function works(id: string, patient: string, donor: string): string {
  return `kind: outcome\nid: ${id}\ndate: 2026-03-14\npatient: ${patient}\ndonor: ${donor}\nrom: left\nreached: reads\nresult: works\n`;
}

/** Whether an outcome of the set only matters by having worked at a stage that its own observations rule out, which was reported. */
function restsOnFault({ pairs }: JointSet, snapshot: Snapshot): boolean {
  return pairs.some(
    ({ rule: { claim, stage }, evidence }) => claim !== 'enough' && isRuledOut(stage, evidence.outcome, snapshot),
  );
}

function describe(set: JointSet, removal: Removal | undefined, snapshot: Snapshot): Draft {
  const { outcomes, rules, assumptions } = set;
  const [last, ...others] = [...outcomes].reverse();
  if (!last) throw new Error('a joint set has outcomes');
  return {
    at: { record: last.outcome, path: ['reached'], side: 'value' },
    severity: severityOf(rules),
    message: describeJointSet(set),
    help: helpFor(set, removal),
    related: [
      ...others.reverse().map(({ outcome }) => ({
        at: { record: outcome, path: ['reached'], side: 'value' as const },
        message: `Outcome \`${outcome.id}\`.`,
      })),
      ...rules.map(({ record }) => ({
        at: { record, path: ['claim'], side: 'value' as const },
        message: `Rule \`${record.id}\`.`,
      })),
      ...assumptions.flatMap((share) => assumed(share, snapshot)),
    ],
  };
}

function helpFor({ outcomes, assumptions }: JointSet, removal: Removal | undefined): string {
  const wanted = removal?.outcomes.filter((evidence) => outcomes.includes(evidence)) ?? [];
  const ids = inARow((wanted.length > 0 ? wanted : outcomes).map(({ outcome }) => outcome.id));
  const pronoun = removal?.outcomes.length === 1 ? 'it' : 'them';
  const isCure = removal !== undefined && removal.outcomes.length === wanted.length;
  const cure = isCure ? `: without ${pronoun} nothing here is at odds` : '';
  const lists = assumptions.map(
    ({ board, rev, key }) => ` Where boards of \`${board}/${rev}\` do differ, list what is met under \`${key}\`.`,
  );
  return `Check the bench notes of ${ids} first${cure}; then the rules.${lists.join('')}`;
}

function assumed({ board: id, rev, key }: Share, snapshot: Snapshot): NonNullable<Draft['related']> {
  const record = snapshot.find('board', id);
  const revision = findRevision(record, rev);
  if (!record || !revision) return [];
  const position = record.data.revisions?.indexOf(revision) ?? 0;
  const message = `Revision \`${revision.rev}\`, of which no \`${key}\` is recorded.`;
  return [{ at: { record, path: ['revisions', position, 'rev'], side: 'value' }, message }];
}
