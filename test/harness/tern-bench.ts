/** A small base without a fault: two drives of one family, one rule, one swap. */
export const ternBench = {
  'swaplore.yaml': 'swaplore: 1\nname: Harbour Street bench\n',
  'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\n',
  'families/tern.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\nadaptives: {stored_in: rom_chip}\n',
  'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
rom_image: {sha256: "${'1'.repeat(64)}"}
---
kind: drive
id: d-0118
family: tern-2
rom_image: {sha256: "${'2'.repeat(64)}"}
`,
  'rules/tern.yaml': `kind: rule
id: tern-rom-travels
applies_to: {families: [tern-2]}
claim: needs
when: {rom_travels: true}
basis: measured
`,
  'outcomes/moved.yaml': outcome('moved', 'chip_moved'),
};

/** A swap of the two drives that reads, with the ROM treated as given. */
export function outcome(id: string, rom: string): string {
  return `kind: outcome
id: ${id}
date: 2026-03-14
patient: d-0117
donor: d-0118
rom: ${rom}
reached: reads
result: works
`;
}
