import { expect, it } from 'vitest';
import { codeLenses } from '../../server/src/core/features/code-lenses.ts';
import { openEach } from '../harness/open-at.ts';

const proved = 'controls: {donor_on_own_board: works, patient_on_own_board: works}\nrom_proved: read_back\n';

function outcome(id: string, patient: string, donor: string, more: string): string {
  return `kind: outcome\nid: ${id}\ndate: 2026-03-14\npatient: ${patient}\ndonor: ${donor}\n${more}`;
}

const worked = 'rom: chip_moved\nreached: reads\nresult: works\n';
const failed = 'reached: spins\nresult: fails\n';

/** Eleven pairs that share no drive: nine worked with the ROM moved, two did not. */
const elevenPairs = Object.fromEntries(
  Array.from({ length: 11 }, (_, n) => [
    `outcomes/${n}.yaml`,
    [
      `kind: drive\nid: p-${n}\nfamily: tern-2\n`,
      `kind: drive\nid: q-${n}\nfamily: tern-2\n`,
      outcome(`o-${n}`, `p-${n}`, `q-${n}`, proved + (n < 9 ? worked : `rom: chip_moved\n${failed}`)),
    ].join('---\n'),
  ]),
);

const bench = {
  'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\n',
  'families/tern.yaml':
    '# tin lids\nkind: family\nid: tern-2\nmaker: wren\nname: Tern 2\nadaptives: {stored_in: rom_chip}\n',
};

/** The lenses of one file of a base: the line they stand above, then what they say. */
function lensesOf(path: string, files: Readonly<Record<string, string>>, wants = { rules: true, families: true }) {
  const file = openEach({ ...bench, ...files }).find((one) => one.path === path)!;
  return codeLenses(file, wants).map(({ start, text }) => `${file.tape.text.slice(start).split('\n')[0]} <- ${text}`);
}

// Source of the interval: Clopper and Pearson's equations for 9 of 11, binomial tails summed in Python: 0.48224 to 0.97717.
it('says above a family how many of its pairs worked', () => {
  expect(lensesOf('families/tern.yaml', elevenPairs)).toEqual([
    'kind: family <- ROM travelled: 9 of 11 pairs worked (exact 48–98 %)',
  ]);
});

it('keeps pairs apart by their ROM, and names what it does not count', () => {
  const drives = ['a', 'b', 'c'].map((id) => `kind: drive\nid: ${id}\nfamily: tern-2\n`).join('---\n');
  const outcomes = [
    outcome('o-1', 'a', 'b', proved + worked),
    outcome('o-2', 'b', 'a', `${proved}rom: chip_moved\n${failed}`),
    outcome('o-3', 'a', 'c', proved + worked),
    outcome('o-4', 'b', 'c', `${proved}rom: left\n${failed}`),
    outcome('o-5', 'c', 'a', worked),
    outcome('o-6', 'c', 'b', 'rom: left\nreached: spins\nresult: inconclusive\n'),
  ];
  const files = { 'drives/all.yaml': drives, 'outcomes/all.yaml': outcomes.join('---\n') };
  expect(lensesOf('families/tern.yaml', files)).toEqual([
    'kind: family <- ROM travelled: 1.5 of 2 pairs worked (3 drives, 1 independent; exact 1–100 %) · ROM did not travel: 0 of 1 pair worked (exact 0–98 %) · not counted: 1 that worked without every control, 1 inconclusive',
  ]);
});

it('does not speak of the ROM where all calibration stays on the platters', () => {
  const family = 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\nadaptives: {stored_in: platters}\n';
  expect(lensesOf('families/tern.yaml', { ...elevenPairs, 'families/tern.yaml': family })).toEqual([
    'kind: family <- 9 of 11 pairs worked (exact 48–98 %)',
  ]);
});

it('says where nothing counts yet', () => {
  const drives = 'kind: drive\nid: a\nfamily: tern-2\n---\nkind: drive\nid: b\nfamily: tern-2\n';
  const open = outcome('o', 'a', 'b', 'rom: left\nreached: spins\nresult: inconclusive\n');
  expect(lensesOf('families/tern.yaml', {})).toEqual(['kind: family <- no outcome yet']);
  expect(lensesOf('families/tern.yaml', { 'drives/all.yaml': drives, 'outcomes/o.yaml': open })).toEqual([
    'kind: family <- no pair with every control yet · not counted: 1 inconclusive',
  ]);
});

it('counts above a rule the outcomes that stand to it in each way', () => {
  const rules = `kind: rule
id: tern-rom-travels
claim: enough
when: {rom_travels: true}
exceptions: [{outcome: o-10, because: power was lost}]
---
kind: rule
id: tern-mostly
claim: enough
when: {rom_travels: true}
at_least: 0.8
`;
  expect(lensesOf('rules/tern.yaml', { ...elevenPairs, 'rules/tern.yaml': rules })).toEqual([
    'kind: rule <- 9 outcomes in support · 1 against · 0 undecided · 1 excepted',
    'kind: rule <- 9 outcomes in support · 2 against · 0 undecided · 9 of 11 pairs bear it out (exact 48–98 %)',
  ]);
});

it('tells an untested rule, and one that cannot be applied', () => {
  const rule = (id: string, more: string): string => `kind: rule\nid: ${id}\nclaim: needs\n${more}`;
  const rules = [
    rule('elsewhere', 'applies_to: {families: [skua]}\nwhen: {rom_travels: true}\n'),
    rule('open', 'when: {made_within_weeks: 4}\n'),
    rule('unreadable', 'when: {rom_travels: perhaps}\n'),
    rule('withdrawn', 'when: {rom_travels: true}\nretracted: {on: 2026-01-01, because: a slip}\n'),
  ];
  expect(lensesOf('rules/tern.yaml', { ...elevenPairs, 'rules/tern.yaml': rules.join('---\n') })).toEqual([
    'kind: rule <- untested · no outcome in scope',
    'kind: rule <- untested · 11 undecided',
    'kind: rule <- not applied: something in it cannot be read',
  ]);
});

it('says nothing of a record whose id is taken, as figures are the other one’s', () => {
  const { 'families/tern.yaml': family } = bench;
  expect(lensesOf('families/zz.yaml', { ...elevenPairs, 'families/zz.yaml': family })).toEqual([]);
});

it('carries the record and its figures', () => {
  const file = openEach({ ...bench, ...elevenPairs }).find(({ path }) => path === 'families/tern.yaml')!;
  const [lens] = codeLenses(file, { rules: true, families: true });
  expect(lens).toMatchObject({
    record: 'family/tern-2',
    figures: { rows: [{ romTravels: true, outcomes: 11, count: { pairs: 11, votes: 9, drives: 22 } }] },
  });
});
