import fc from 'fast-check';

/**
 * The few values that random bases are made of: few, so that two drives often agree; some of them equal only by folding, since
 * case and repeated spaces do not count.
 */

/** Ids by kind. A random base records the first few of each list; now and then it names one it does not record. */
export const idPools = {
  maker: ['wren', 'lark'],
  family: ['tern-1', 'tern-2', 'gull-1'],
  board: ['kestrel', 'merlin'],
  drive: ['d-1', 'd-2', 'd-3', 'd-4', 'd-5'],
  outcome: ['o-1', 'o-2', 'o-3', 'o-4', 'o-5', 'o-6'],
  rule: ['r-1', 'r-2', 'r-3', 'r-4'],
} as const;

/** Revisions of any board; the last one is never recorded. */
export const revs = ['A1', 'A2', 'B1', 'Z9'] as const;

/** What families need of a host, and hosts meet. */
export const hostNeeds = ['spin_up_command', 'onboard_port', 'over_2tib'] as const;

/** Values of the keys of a drive that conditions compare; those of its board stand apart. */
export const driveValues = {
  model: ['TN1-1', 'tn1-1', 'TN1-2'],
  part_number: ['P 1', 'p  1', 'P2'],
  firmware: ['F1', 'F2'],
  rom_version: ['R1', 'R2'],
  site: ['North Quay', 'north  quay', 'South'],
  country: ['X', 'Y'],
  capacity_gb: [500, 1000],
  heads: [2, 4],
  head_map: ['0,1', '0,2'],
  head_stack_code: ['H1', 'H2'],
  preamp: ['Q1', 'Q2'],
  made: ['2012-W31', '2012-08', '2012-08-03', '2013-W01', '2012-W52', '2014-02'],
} as const;

/** Values of the parts of a revision. A drive's own markings come from the same lists. */
export const partValues = {
  controller: ['KR1', 'kr1', 'KR2'],
  motor_driver: ['MD1', 'MD2'],
  contact_pads: [18, 20],
  rom_package: ['soic8_208mil', 'wson8_6x5', 'other'],
  sticker: ['S1', 'S2'],
} as const;

/** Values of the facts about a family that conditions name. */
export const familyValues = {
  interface: ['sata', 'pata'],
  form_factor: ['3.5in', '2.5in'],
  height_mm: [26.1, 9.5],
  recording: ['cmr', 'smr'],
  encryption: ['none', 'always'],
  rpm: [5400, 7200],
  gas: ['air', 'helium'],
} as const;

/** Where a family may keep its adaptives. */
export const storedIn = ['rom_chip', 'controller', 'platters'] as const;

/** What may have been done about the ROM. */
export const romStates = ['left', 'chip_moved', 'image_written', 'controller_moved', 'not_fitted'] as const;

/** Power-on hours before a swap. */
export const hours = [100, 9000] as const;

/** One of the values of each list. */
export function oneOfEach<Lists extends Readonly<Record<string, readonly unknown[]>>>(
  lists: Lists,
): { [Key in keyof Lists]: fc.Arbitrary<Lists[Key][number]> } {
  const entries = Object.entries(lists).map(([key, values]) => [key, fc.constantFrom(...values)]);
  return Object.fromEntries(entries) as { [Key in keyof Lists]: fc.Arbitrary<Lists[Key][number]> };
}
