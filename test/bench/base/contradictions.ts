import type { TextFile } from './make-base.ts';
import { drivesPerFamily } from './sizes.ts';

/** A contradiction put into a base on purpose: the file it shows in, and the outcomes of which none can be spared. */
interface PlantedContradiction {
  readonly path: string;
  readonly outcomes: readonly string[];
}

/** Families that contradict themselves, each in one way. */
export interface ContradictoryFiles {
  readonly files: readonly TextFile[];
  readonly planted: readonly PlantedContradiction[];
}

/** How many outcomes the family of one contradiction has, and how many rules. */
export const outcomesPerContradiction = 20;
export const rulesPerContradiction = 2;

/** One family for each contradiction, with as many drives and outcomes as any other family; three kinds take turns. */
export function makeContradictions(count: number): ContradictoryFiles {
  const families = Array.from({ length: count }, (_, number) => makeFamily(number));
  const files = [{ path: 'makers/planted.yaml', text: 'kind: maker\nid: planted\nname: Planted\n' }];
  return {
    files: [...files, ...families.flatMap((family) => family.files)],
    planted: families.map(({ planted }) => planted),
  };
}

/** What a swap of two drives, by their numbers, came to. */
interface Swap {
  readonly patient: number;
  readonly donor: number;
  readonly works: boolean;
}

/** A way to contradict: the rules, and the swaps that cannot all be right. Drives beyond those named are free for others. */
interface Kind {
  readonly rules: (id: string) => string;
  readonly swaps: readonly Swap[];
}

const works = (patient: number, donor: number): Swap => ({ patient, donor, works: true });
const fails = (patient: number, donor: number): Swap => ({ patient, donor, works: false });

const kinds: readonly Kind[] = [
  // What is equal in a chain is equal at its ends.
  {
    rules: (id) =>
      `${rule(`${id}-needs`, id, 'needs', '{same: [preamp]}')}---\n${rule(`${id}-enough`, id, 'enough', '{same: [preamp]}')}`,
    swaps: [works(1, 2), works(2, 3), works(3, 4), fails(4, 1)],
  },
  // Boards of one revision share a controller.
  {
    rules: (id) =>
      `${rule(`${id}-prevents`, id, 'prevents', '{same: [controller]}')}---\n${rule(`${id}-needs`, id, 'needs', '{same: [heads]}')}`,
    swaps: [works(1, 2)],
  },
  // Of three that are one of two, two are equal.
  {
    rules: (id) =>
      `${rule(`${id}-prevents`, id, 'prevents', '{same: [rom_version]}')}---\n${rule(`${id}-needs`, id, 'needs', '{patient: {rom_version: [R1, R2]}, donor: {rom_version: [R1, R2]}}')}`,
    swaps: [works(1, 2), works(2, 3), works(3, 1)],
  },
];

function makeFamily(number: number): { readonly files: readonly TextFile[]; readonly planted: PlantedContradiction } {
  const kind = kinds[number % kinds.length] ?? kinds[0];
  if (!kind) throw new Error('There are kinds');
  const id = `planted-${String(number).padStart(3, '0')}`;
  // Swaps of the remaining drives that fit any values: a star shares no drive but its middle.
  const spare = Array.from({ length: outcomesPerContradiction - kind.swaps.length }, (_, position): Swap => {
    return position % 2 === 0
      ? works(drivesPerFamily - 2, drivesPerFamily - 1)
      : works(drivesPerFamily - 2, drivesPerFamily);
  });
  const outcomes = [...kind.swaps, ...spare].map((swap, position) => ({ id: `${id}-${position + 10}`, swap }));
  const file: TextFile = {
    path: `families/planted/${id}.yaml`,
    text: [
      `kind: family\nid: ${id}\nmaker: planted\nname: ${id}\nadaptives: {stored_in: platters}\n`,
      `kind: board\nid: ${id}\nmaker: planted\npart_number: ${id}\nfamilies: [${id}]\nrevisions: [{rev: A}]\n`,
      ...Array.from({ length: drivesPerFamily }, (_, drive) => driveText(id, drive + 1)),
      kind.rules(id),
    ].join('---\n'),
  };
  const outcomeFiles = outcomes.map((outcome) => ({
    path: `outcomes/${id}/${outcome.id}.yaml`,
    text: outcomeText(id, outcome),
  }));
  const members = outcomes.slice(0, kind.swaps.length).map((outcome) => outcome.id);
  return {
    files: [file, ...outcomeFiles],
    planted: { path: `outcomes/${id}/${members.at(-1)}.yaml`, outcomes: members },
  };
}

function rule(id: string, family: string, claim: string, when: string): string {
  return `kind: rule\nid: ${id}\napplies_to: {families: [${family}]}\nclaim: ${claim}\nwhen: ${when}\nbasis: measured\n`;
}

/** All drives are of one revision; of those that no contradiction is about the controllers are recorded, each another. */
function driveText(family: string, drive: number): string {
  const controller = drive > 5 ? `, controller: C${drive}` : '';
  return `kind: drive\nid: ${family}-d${drive}\nfamily: ${family}\nheads: 2\nboard: {id: ${family}, rev: A${controller}}\n`;
}

function outcomeText(family: string, { id, swap }: { readonly id: string; readonly swap: Swap }): string {
  const [reached, result] = swap.works ? ['reads', 'works'] : ['ready', 'fails'];
  return `kind: outcome
id: ${id}
date: 2026-03-14
patient: ${family}-d${swap.patient}
donor: ${family}-d${swap.donor}
rom: left
host: {port: onboard}
controls: {donor_on_own_board: works, patient_on_own_board: works}
reached: ${reached}
result: ${result}
`;
}
