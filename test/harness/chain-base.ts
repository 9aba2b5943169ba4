/** The lines of outcomes by their id; what they say besides is in `chainOutcome`. */
interface Chain {
  readonly works: boolean;
  readonly patient: string;
  readonly donor: string;
  /** Controls in YAML flow form. */
  readonly controls?: string;
}

/** The board of `a` works on `b`, that of `b` on `c`, that of `a` fails on `c`; preamps are not recorded, all boards are of one revision. */
export const chain: Readonly<Record<string, Chain>> = {
  'b-with-a': { patient: 'b', donor: 'a', works: true },
  'c-with-a': { patient: 'c', donor: 'a', works: false },
  'c-with-b': { patient: 'c', donor: 'b', works: true },
};

/** An outcome of the chain, its file. */
export function chainOutcome(id: string, { patient, donor, works, controls = allControls }: Chain): string {
  return `kind: outcome
id: ${id}
date: 2026-03-14
patient: ${patient}
donor: ${donor}
rom: chip_moved
rom_proved: read_back
host: {name: bench-1, port: onboard}
controls: ${controls}
reached: ${works ? 'reads' : 'ready'}
result: ${works ? 'works' : 'fails'}
`;
}

/** What it takes for a failure to count. */
export const allControls = '{donor_on_own_board: works, patient_on_own_board: works}';

/** The base around the outcomes. */
export const chainBase = {
  'swaplore.yaml': 'swaplore: 1\nname: Harbour Street bench\nseverity: {rom-not-kept: off, control-missing: off}\n',
  'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\n',
  'families/tern.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\nadaptives: {stored_in: rom_chip}\n',
  'boards/kestrel.yaml': board('{rev: A1, contact_pads: 18}'),
  'drives/tern.yaml': ['a', 'b', 'c', 'd'].map(drive).join('---\n'),
  'rules/tern.yaml': `kind: rule
id: tern-enough
applies_to: {families: [tern-2]}
claim: enough
when: {same: [rev, preamp]}
basis: measured
---
kind: rule
id: tern-preamp
applies_to: {families: [tern-2]}
claim: needs
when: {same: [preamp]}
basis: measured
`,
};

/** The board of all drives, with one revision. */
export function board(revision: string): string {
  return `kind: board\nid: kestrel\nmaker: wren\npart_number: K 1\nfamilies: [tern-2]\nrevisions:\n  - ${revision}\n`;
}

function drive(id: string): string {
  return `kind: drive\nid: ${id}\nfamily: tern-2\nboard: {id: kestrel, rev: A1}\n`;
}

/** The base with these outcomes, each in a file of its own. */
export function chainFiles(outcomes: Readonly<Record<string, Chain>> = chain): Record<string, string> {
  const files = Object.entries(outcomes).map(([id, one]) => [`outcomes/${id}.yaml`, chainOutcome(id, one)] as const);
  return { ...chainBase, ...Object.fromEntries(files) };
}
