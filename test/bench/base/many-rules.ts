import type { TextFile } from './make-base.ts';

const families = Array.from({ length: 20 }, (_, number) => `family-${number + 1}`);
const rulesPerFamily = 20;
const makers = ['maker-1', 'maker-2'];

/**
 * What rules are made of, in turn: what is enough takes all that is needed, except in the families that are to have a conflict.
 */
const needs = [
  '{rom_travels: true}',
  '{same: [controller]}',
  '{revision: drop_in}',
  '{any: [{same: [motor_driver]}, {made_within_weeks: 8}]}',
  '{none: [{donor: {heads: {from: 5}}, patient: {heads: {to: 2}}}]}',
];
const prevents = [
  '{different: [contact_pads], family_is: {interface: sata}}',
  '{patient: {firmware: [F1, F2]}, donor: {firmware: F3}}',
  '{rom_travels: false, different: [preamp]}',
  '{patient: {capacity_gb: {from: 1000}}, donor: {capacity_gb: {to: 500}}}',
];
const everything =
  'rom_travels: true, revision: same, same: [controller, motor_driver, contact_pads, firmware, capacity_gb, heads, preamp]';
const enough = [`{${everything}}`, `{${everything}, made_within_weeks: 26}`, `{${everything}, patient: {site: Quay}}`];

/**
 * Texts of a base with 400 laws, a few of which exclude each other: 20 for each of 20 families, with a board of three revisions
 * each.
 */
export function manyRules(): TextFile[] {
  const parts = families.map((family, position) => {
    const maker = makers[position % makers.length];
    const board = `kind: board\nid: board-of-${family}\nmaker: ${maker}\npart_number: B ${position}\nfamilies: [${family}]\nrevisions:
  - {rev: A, controller: C1, motor_driver: D1, contact_pads: 18}
  - {rev: B, controller: C1, motor_driver: [D1, D2], contact_pads: 18, drop_in_for: [A]}
  - {rev: C, controller: C2, contact_pads: 20, drop_in_for: [B]}\n`;
    const record = `kind: family\nid: ${family}\nmaker: ${maker}\nname: ${family}\ninterface: sata\nadaptives: {stored_in: rom_chip}\n`;
    const rules = Array.from({ length: rulesPerFamily }, (_, number) => ruleText(family, position, number));
    return { path: `${family}.yaml`, text: [board, record, ...rules].join('---\n') };
  });
  const named = makers.map((id) => `kind: maker\nid: ${id}\nname: ${id}\n`).join('---\n');
  return [{ path: 'makers.yaml', text: named }, ...parts];
}

function ruleText(family: string, position: number, number: number): string {
  const [claim, list] = (
    [
      ['needs', needs],
      ['prevents', prevents],
      ['enough', enough],
      ['needs', needs],
    ] as const
  )[number % 4] ?? ['needs', needs];
  const turn = Math.floor(number / 4) + (number % 4 === 3 ? 2 : 0);
  // One family in five promises more than it should.
  const isBold = claim === 'enough' && position % 5 === 0 && turn === 0;
  const when = isBold ? '{rom_travels: true, revision: drop_in}' : list[turn % list.length];
  const made = `{from: ${2008 + (number % 3)}, to: ${2016 + (turn % 3)}}`;
  const stage = claim === 'enough' ? 'reads' : ['ready', 'detected', 'reads'][number % 3];
  return `kind: rule\nid: ${family}-${number}\napplies_to: {families: [${family}], made: ${made}}\nclaim: ${claim}\nwhen: ${when}\nstage: ${stage}\n`;
}
