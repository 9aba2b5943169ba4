import type { Snapshot } from '../index/snapshot.ts';
import { type Disagreement, disagreements, disagreementsByFamily } from '../reasoning/disagreements.ts';
import { remembered } from '../terms/remembered.ts';
import { quotedList } from '../text/quoted-list.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleBase } from './example-base.ts';

const bench = {
  ...exampleBase,
  'boards/w100.yaml': 'kind: board\nid: w100\nmaker: wren\npart_number: W100\nrevisions: [{rev: A}]\n',
  'drives/tern.yaml': [1, 2, 3, 4]
    .map((n) => `kind: drive\nid: d-${n}\nfamily: tern-2\nfirmware: F1\nboard: {id: w100, rev: A}\n`)
    .join('---\n'),
  'outcomes/one.yaml':
    'kind: outcome\nid: one\ndate: 2026-03-14\npatient: d-1\ndonor: d-2\nrom: left\nreached: reads\nresult: works\n',
};

const failing =
  'kind: outcome\nid: two\ndate: 2026-03-15\npatient: d-3\ndonor: d-4\nrom: left\ncontrols: {swapped_back: both_work}\n';

/** Two swaps that look alike in everything recorded, one of which worked. */
export const outcomesDisagree = defineCheck({
  check: 'outcomes-disagree',
  group: 'across',
  severity: 'info',
  scope: 'base',
  restsOn: [disagreementsByFamily],
  why: 'Where two swaps compare alike in everything that is recorded and one of them worked, something that is not recorded made the difference. It is among the keys nobody has looked at, and the next donor is a toss of a coin until somebody does.',
  examples: () => [
    {
      title: 'Same board, same firmware, opposite results',
      files: {
        ...bench,
        'outcomes/two.yaml': `${failing}reached: spins
#        ^^^^^ outcomes-disagree: Outcome \`two\` failed where outcome \`one\` worked, though both compare alike in \`firmware\`, \`board\`, \`rev\` and the ROM travelled in both; neither can be compared in \`model\`, \`part_number\`, \`rom_version\`, \`site\`, \`country\`, \`capacity_gb\`, \`heads\`, \`head_map\`, \`head_stack_code\`, \`preamp\`, \`sticker\`, \`controller\`, \`motor_driver\`, \`contact_pads\`, \`rom_package\`.
result: fails
`,
      },
    },
    {
      title: 'The firmware tells them apart',
      files: {
        ...bench,
        'drives/tern.yaml': bench['drives/tern.yaml'].replace(
          'id: d-4\nfamily: tern-2\nfirmware: F1',
          'id: d-4\nfamily: tern-2\nfirmware: F2',
        ),
        'outcomes/two.yaml': `${failing}reached: spins\nresult: fails\n`,
      },
    },
  ],
  *run(snapshot: Snapshot) {
    for (const disagreement of disagreements(snapshot)) yield* draftsOf(disagreement);
  },
});

/** Outcomes that a finding points to; `swaplore contradictions --json` lists them all. */
const mostRelated = 5;

/** A disagreement stays the same object for as long as nothing in its family changes. */
const draftsOf = remembered((disagreement: Disagreement) => [...describe(disagreement)]);

function* describe({ outcome, works, romTravels, opposites }: Disagreement): Generator<Draft> {
  const [nearest, ...others] = firstOf(opposites, mostRelated + 1);
  if (!nearest) return;
  const results = works ? (['worked', 'failed'] as const) : (['failed', 'worked'] as const);
  const hasMore =
    others.length === 0 ? '' : ` (and ${others.length < mostRelated ? others.length : `${mostRelated} or`} more)`;
  const rom = romTravels ? 'travelled' : 'did not travel';
  const { shared, unrecorded } = nearest;
  const unknown =
    unrecorded.length === 0
      ? 'each of the other keys is known in one of them'
      : `neither can be compared in ${quotedList(unrecorded)}`;
  yield {
    at: { record: outcome, path: ['reached'], side: 'value' },
    message: `Outcome \`${outcome.id}\` ${results[0]} where outcome \`${nearest.outcome.id}\`${hasMore} ${results[1]}, though both compare alike in ${quotedList(shared)} and the ROM ${rom} in both; ${unknown}.`,
    help:
      unrecorded.length === 0
        ? 'Check both bench notes for a difference that no key records.'
        : 'Look these up on the drives that are still at hand; the one that differs may be the condition nobody wrote down.',
    related: [nearest, ...others].slice(0, mostRelated).map((other) => ({
      at: { record: other.outcome, path: ['reached'], side: 'value' },
      message: `Outcome \`${other.outcome.id}\` ${results[1]}.`,
    })),
  };
}

function firstOf<Item>(items: Iterable<Item>, count: number): Item[] {
  const first: Item[] = [];
  for (const item of items) {
    if (first.push(item) === count) break;
  }
  return first;
}
