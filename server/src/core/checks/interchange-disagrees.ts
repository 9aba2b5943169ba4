import type { Swap } from '../conditions/swap.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { Rule } from '../reasoning/rule.ts';
import { unexplained, unexplainedInterchanges } from '../reasoning/unexplained-interchanges.ts';
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
  restsOn: [unexplained],
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
    for (const { evidence, undecided } of unexplainedInterchanges(snapshot)) {
      if (evidence.swap) yield describe(evidence.swap, undecided, snapshot);
    }
  },
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
