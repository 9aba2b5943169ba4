import { expect, it } from 'vitest';
import { describeJointSet } from '../../server/src/core/reasoning/describe-joint-set.ts';
import { forcedValues } from '../../server/src/core/reasoning/forced-values.ts';
import { jointResults } from '../../server/src/core/reasoning/joint-contradictions.ts';
import { openPairs } from '../../server/src/core/reasoning/joint-pairs.ts';
import { withoutLoose } from '../../server/src/core/reasoning/loose-pairs.ts';
import { board, chainBase, chainOutcome } from '../harness/chain-base.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';

interface Case {
  readonly rules: readonly string[];
  /** `PATIENT>DONOR works` or `fails`, separated by commas. */
  readonly swaps: string;
  /** Further keys of drives, by id, in YAML flow form; drives are on `kestrel/A1` where they have none. */
  readonly drives?: Readonly<Record<string, string>>;
  readonly board?: string;
}

/** What comes of a base: contradictions, what to take out, what follows, and how many pairs are loose. */
function told({
  rules,
  swaps,
  drives = {},
  board: revisions = '{rev: A1, contact_pads: 18}',
}: Case): readonly string[] {
  const outcomes = swaps.split(', ').map((text) => {
    const [patient = '', donor = '', works] = text.split(/[> ]/);
    return chainOutcome(`${patient}${donor}`, { patient, donor, works: works === 'works' });
  });
  const ids = [...new Set(swaps.match(/\b[a-z]\b/g))].sort();
  const snapshot = snapshotOf({
    ...chainBase,
    'boards/kestrel.yaml': board(revisions),
    'drives/tern.yaml': ids
      .map((id) => `{kind: drive, id: ${id}, family: tern-2, ${drives[id] ?? 'board: {id: kestrel, rev: A1}'}}`)
      .join('\n---\n'),
    'rules/tern.yaml': rules.map((text, n) => `{kind: rule, id: r${n + 1}, ${text}}`).join('\n---\n'),
    'outcomes/all.yaml': outcomes.join('---\n'),
  });
  const results = [...jointResults(snapshot)].flatMap((result) => result ?? []);
  const pairs = openPairs(snapshot).flatMap((one) => one.pairs);
  const nameOf = ({ rule, evidence }: (typeof pairs)[number]): string => `${rule.record.id} ${evidence.outcome.id}`;
  return [
    `bound: ${withoutLoose(pairs).map(nameOf).join(', ')} of ${pairs.length}`,
    ...results.flatMap(({ sets, removal }) => [
      ...sets.map(describeJointSet),
      `without ${removal?.outcomes.map(({ outcome }) => outcome.id).join(', ')}${removal?.isExact ? '' : ' or fewer'}`,
    ]),
    ...[...forcedValues(snapshot)].flatMap((forced) => {
      if (!forced) return [];
      const from = forced.from.map((member) =>
        member.is === 'rule'
          ? member.rule.record.id
          : member.is === 'outcome'
            ? member.evidence.outcome.id
            : `all ${member.share.key} of ${member.share.rev} alike`,
      );
      return [`${forced.values.join(' and ')}: ${forced.relation} ${forced.value ?? ''} from ${from.join(', ')}`];
    }),
  ];
}

const needsPreamp = 'claim: needs, when: {same: [preamp]}';
const enoughPreamp = 'claim: enough, when: {same: [rev, preamp]}';

it('finds what cannot all be right, and what to take out', () => {
  expect({
    'a chain': told({ rules: [enoughPreamp, needsPreamp], swaps: 'b>a works, c>b works, c>a fails' }),
    'a longer one': told({ rules: [enoughPreamp, needsPreamp], swaps: 'b>a works, c>b works, d>c works, d>a fails' }),
    'two chains apart': told({
      rules: [enoughPreamp, needsPreamp],
      swaps: 'b>a works, c>b works, c>a fails, e>d works, f>e works, f>d fails',
    }),
    'two that share outcomes': told({
      rules: [enoughPreamp, needsPreamp],
      swaps: 'b>a works, c>b works, c>a fails, d>c works, d>a fails',
    }),
    'one that is no chain': told({ rules: [enoughPreamp, needsPreamp], swaps: 'b>a works, c>a fails, d>c works' }),
    'three of two values': told({
      rules: ['claim: needs, when: {patient: {site: [X, Y]}}', 'claim: prevents, when: {same: [site]}'],
      swaps: 'a>b works, b>c works, c>a works',
    }),
    'a part of one revision': told({ rules: ['claim: prevents, when: {same: [controller]}'], swaps: 'b>a works' }),
    'a revision that follows': told({
      rules: ['claim: needs, when: {donor: {rev: kestrel/A1}}', 'claim: prevents, when: {donor: {contact_pads: 18}}'],
      swaps: 'b>a works',
      drives: { a: 'board: {id: kestrel}', b: 'heads: 4' },
    }),
    'a claim that follows': told({
      rules: [
        'claim: needs, when: {donor: {rev: kestrel/B1}, patient: {rev: kestrel/A1}}',
        'claim: needs, when: {revision: drop_in}',
      ],
      swaps: 'b>a works',
      drives: { a: 'board: {id: kestrel}', b: 'board: {id: kestrel}' },
      board: '{rev: A1, drop_in_for: [B1]}\n  - {rev: B1}',
    }),
    'where the ROM went': told({
      rules: [
        'claim: needs, when: {any: [{rom_travels: false}, {same: [site]}]}',
        'claim: prevents, when: {same: [site]}',
      ],
      swaps: 'b>a works',
    }),
    'days too far apart': told({
      rules: [
        'claim: needs, when: {made_within_weeks: 1, patient: {made: {from: 2012-08-01}}}',
        'claim: prevents, when: {donor: {made: {from: 2012-07-01}}}',
      ],
      swaps: 'b>a works',
    }),
  }).toMatchInlineSnapshot(`
    {
      "a chain": [
        "bound: r1 ca, r2 ba, r2 cb of 3",
        "Outcomes \`ba\`, \`ca\` and \`cb\` cannot all be right if rules \`r1\` and \`r2\` hold: \`ca\` fails at \`reads\`, which by \`r1\` rules out \`same: [rev], same: [preamp]\`; \`ba\` and \`cb\` work at \`reads\`, which by \`r2\` takes \`same: [preamp]\`.",
        "without ba",
      ],
      "a claim that follows": [
        "bound: r1 ba, r2 ba of 2",
        "Outcome \`ba\` cannot be right if rules \`r1\` and \`r2\` hold: \`ba\` works at \`reads\`, which by \`r1\` takes \`patient: {rev: kestrel/A1}, donor: {rev: kestrel/B1}\`; \`ba\` works at \`reads\`, which by \`r2\` takes \`revision: drop_in\`.",
        "without ba",
      ],
      "a longer one": [
        "bound: r1 da, r2 ba, r2 cb, r2 dc of 4",
        "Outcomes \`ba\`, \`cb\`, \`da\` and \`dc\` cannot all be right if rules \`r1\` and \`r2\` hold: \`da\` fails at \`reads\`, which by \`r1\` rules out \`same: [rev], same: [preamp]\`; \`ba\`, \`cb\` and \`dc\` work at \`reads\`, which by \`r2\` takes \`same: [preamp]\`.",
        "without ba",
      ],
      "a part of one revision": [
        "bound: r1 ba of 1",
        "Outcome \`ba\` cannot be right if rule \`r1\` holds and all boards of \`kestrel/A1\` have the same \`controller\`: \`ba\` works at \`reads\`, which by \`r1\` rules out \`same: [controller]\`.",
        "without ba",
      ],
      "a revision that follows": [
        "bound: r1 ba, r2 ba of 2",
        "Outcome \`ba\` cannot be right if rules \`r1\` and \`r2\` hold: \`ba\` works at \`reads\`, which by \`r1\` takes \`donor: {rev: kestrel/A1}\`; \`ba\` works at \`reads\`, which by \`r2\` rules out \`donor: {contact_pads: 18}\`.",
        "without ba",
      ],
      "days too far apart": [
        "bound: r1 ba, r2 ba of 2",
        "Outcome \`ba\` cannot be right if rules \`r1\` and \`r2\` hold: \`ba\` works at \`reads\`, which by \`r1\` takes \`patient: {made: {from: 2012-08-01}}, made_within_weeks: 1\`; \`ba\` works at \`reads\`, which by \`r2\` rules out \`donor: {made: {from: 2012-07-01}}\`.",
        "without ba",
      ],
      "one that is no chain": [
        "bound:  of 3",
        "drive/a preamp and drive/b preamp: equal  from r2, ba",
        "drive/a preamp and drive/c preamp: different  from r1, ca",
        "drive/c preamp and drive/d preamp: equal  from r2, dc",
      ],
      "three of two values": [
        "bound: r1 ab, r1 bc, r1 ca, r2 ab, r2 bc, r2 ca of 6",
        "Outcomes \`ab\`, \`bc\` and \`ca\` cannot all be right if rules \`r1\` and \`r2\` hold: \`ab\`, \`bc\` and \`ca\` work at \`reads\`, which by \`r1\` takes \`patient: {site: [X, Y]}\`; \`ab\`, \`bc\` and \`ca\` work at \`reads\`, which by \`r2\` rules out \`same: [site]\`.",
        "without ab",
      ],
      "two chains apart": [
        "bound: r1 ca, r1 fd, r2 ba, r2 cb, r2 ed, r2 fe of 6",
        "Outcomes \`ba\`, \`ca\` and \`cb\` cannot all be right if rules \`r1\` and \`r2\` hold: \`ca\` fails at \`reads\`, which by \`r1\` rules out \`same: [rev], same: [preamp]\`; \`ba\` and \`cb\` work at \`reads\`, which by \`r2\` takes \`same: [preamp]\`.",
        "without ba",
        "Outcomes \`ed\`, \`fd\` and \`fe\` cannot all be right if rules \`r1\` and \`r2\` hold: \`fd\` fails at \`reads\`, which by \`r1\` rules out \`same: [rev], same: [preamp]\`; \`ed\` and \`fe\` work at \`reads\`, which by \`r2\` takes \`same: [preamp]\`.",
        "without ed",
      ],
      "two that share outcomes": [
        "bound: r1 ca, r1 da, r2 ba, r2 cb, r2 dc of 5",
        "Outcomes \`ba\`, \`ca\` and \`cb\` cannot all be right if rules \`r1\` and \`r2\` hold: \`ca\` fails at \`reads\`, which by \`r1\` rules out \`same: [rev], same: [preamp]\`; \`ba\` and \`cb\` work at \`reads\`, which by \`r2\` takes \`same: [preamp]\`.",
        "without ba",
      ],
      "where the ROM went": [
        "bound: r1 ba, r2 ba of 2",
        "Outcome \`ba\` cannot be right if rules \`r1\` and \`r2\` hold: \`ba\` works at \`reads\`, which by \`r1\` takes \`any: [{rom_travels: false}, {same: [site]}]\`; \`ba\` works at \`reads\`, which by \`r2\` rules out \`same: [site]\`.",
        "without ba",
      ],
    }
  `);
});

it('finds what follows of values that nobody recorded', () => {
  expect({
    'what a patient needs': told({ rules: ['claim: needs, when: {patient: {preamp: PA-1}}'], swaps: 'b>a works' }),
    'in the spelling of the rule': told({
      rules: ['claim: needs, when: {patient: {preamp: "Pa 1"}}'],
      swaps: 'b>a works',
    }),
    'one side known': told({ rules: [needsPreamp], swaps: 'b>a works', drives: { a: 'preamp: PA-1' } }),
    'through a third': told({
      rules: [enoughPreamp, needsPreamp],
      swaps: 'b>a works, c>b works, d>a works',
      drives: { c: 'preamp: Pa-7, board: {id: kestrel, rev: A1}' },
    }),
    'neither known': told({ rules: [needsPreamp], swaps: 'b>a works, c>b works' }),
    unlike: told({ rules: [enoughPreamp], swaps: 'b>a fails' }),
    'unlike a known one': told({
      rules: [enoughPreamp],
      swaps: 'b>a fails',
      drives: { a: 'preamp: PA-1, board: {id: kestrel, rev: A1}' },
    }),
    'one of two': told({
      rules: ['claim: needs, when: {patient: {site: [X, Y]}}', 'claim: prevents, when: {patient: {site: X}}'],
      swaps: 'b>a works',
    }),
    'a number': told({ rules: ['claim: needs, when: {patient: {heads: {from: 4, to: 4}}}'], swaps: 'b>a works' }),
    'nothing where it may be otherwise': told({
      rules: ['claim: needs, when: {any: [{same: [site]}, {same: [heads]}]}'],
      swaps: 'b>a works',
    }),
    'one of two ways closed': told({
      rules: ['claim: needs, when: {any: [{same: [site]}, {same: [heads]}]}'],
      swaps: 'b>a works',
      drives: { a: 'heads: 2, site: KL', b: 'heads: 4' },
    }),
    'nothing where it contradicts': told({
      rules: ['claim: needs, when: {patient: {preamp: PA-1}}', 'claim: prevents, when: {patient: {preamp: PA-1}}'],
      swaps: 'b>a works',
    }),
  }).toMatchInlineSnapshot(`
    {
      "a number": [
        "bound: r1 ba of 1",
        "drive/b heads: is 4 from r1, ba",
      ],
      "in the spelling of the rule": [
        "bound:  of 1",
        "drive/b preamp: is Pa 1 from r1, ba",
      ],
      "neither known": [
        "bound:  of 2",
        "drive/a preamp and drive/b preamp: equal  from r1, ba",
        "drive/b preamp and drive/c preamp: equal  from r1, cb",
      ],
      "nothing where it contradicts": [
        "bound: r1 ba, r2 ba of 2",
        "Outcome \`ba\` cannot be right if rules \`r1\` and \`r2\` hold: \`ba\` works at \`reads\`, which by \`r1\` takes \`patient: {preamp: PA-1}\`; \`ba\` works at \`reads\`, which by \`r2\` rules out \`patient: {preamp: PA-1}\`.",
        "without ba",
      ],
      "nothing where it may be otherwise": [
        "bound:  of 1",
      ],
      "one of two": [
        "bound: r1 ba, r2 ba of 2",
        "drive/b site: is Y from r1, r2, ba",
      ],
      "one of two ways closed": [
        "bound:  of 1",
        "drive/b site: is KL from r1, ba",
      ],
      "one side known": [
        "bound:  of 1",
        "drive/b preamp: is PA-1 from r1, ba",
      ],
      "through a third": [
        "bound:  of 3",
        "drive/a preamp: is Pa-7 from r2, ba, cb",
        "drive/b preamp: is Pa-7 from r2, cb",
        "drive/d preamp: is Pa-7 from r2, ba, cb, da",
      ],
      "unlike": [
        "bound:  of 1",
        "drive/a preamp and drive/b preamp: different  from r1, ba",
      ],
      "unlike a known one": [
        "bound:  of 1",
      ],
      "what a patient needs": [
        "bound:  of 1",
        "drive/b preamp: is PA-1 from r1, ba",
      ],
    }
  `);
});
