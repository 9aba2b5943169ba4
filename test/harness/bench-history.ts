import type { Commit } from './git-repository.ts';

/** A commit with what it means, in words. */
export interface KnownCommit extends Commit {
  readonly means: string;
}

const controls = 'controls: {donor_on_own_board: works, patient_on_own_board: works}\n';
const config = 'swaplore: 1\nname: Harbour Street bench\n';
const maker = 'kind: maker\nid: wren\nname: Wren\n';
const family = 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\nadaptives: {stored_in: rom_chip}\n';
const rule = `kind: rule
id: travels
applies_to: {families: [tern-2]}
claim: needs
when: {rom_travels: true}
basis: measured
`;
const excepted = `${rule}exceptions: [{outcome: odd, because: The donor had been its twin.}]\n`;

function drive(id: string, more = ''): string {
  return `kind: drive\nid: ${id}\nfamily: tern-2\n${more}`;
}

function outcome(id: string, lines: string): string {
  return `kind: outcome\nid: ${id}\ndate: 2026-03-14\npatient: d-0117\ndonor: d-0118\n${lines}`;
}

const moved = outcome('moved', `rom: chip_moved\nrom_proved: read_back\n${controls}reached: reads\nresult: works\n`);
const left = outcome('left', `rom: left\n${controls}reached: spins\nresult: fails\n`);
const odd = outcome('odd', `rom: left\n${controls}reached: reads\nresult: works\n`);
const third = `rom: chip_moved\nrom_proved: read_back\n${controls}reached: reads\nresult: works\n`;

/** A bench's base from before its first day on, one change at a time. It lies in `kb`, and in the end in `bench`. */
export const history: readonly KnownCommit[] = [
  main('nothing but a readme', { 'README.md': 'Ours.\n' }),
  main('the base begins', { 'kb/swaplore.yaml': config, 'kb/makers.yaml': maker, 'kb/families.yaml': family }),
  main('two drives in one file', { 'kb/drives.yaml': `${drive('d-0117')}---\n${drive('d-0118')}` }),
  main('a rule', { 'kb/rules.yaml': rule }),
  main('a swap that worked', { 'kb/moved.yaml': moved }),
  main('a swap that failed', { 'kb/left.yaml': left }),
  main('other line ends', { 'kb/families.yaml': family.replaceAll('\n', '\r\n') }),
  main('keys in another order', { 'kb/makers.yaml': 'name: Wren\nkind: maker\nid: wren\n' }),
  main('comments and notes', { 'kb/left.yaml': `# Seen by two.\n${left}notes: On a Monday.\n` }),
  main('a file moved', { 'kb/moved.yaml': null, 'kb/outcomes/2026/moved.yaml': moved }),
  main('a file divided', { 'kb/drives.yaml': null, 'kb/d/7.yml': drive('d-0117'), 'kb/d/8.yml': drive('d-0118') }),
  main('a value recorded', { 'kb/d/7.yml': drive('d-0117', 'firmware: SC60\n') }),
  main('a value corrected and one taken away', {
    'kb/d/7.yml': drive('d-0117', 'firmware: SC61\n'),
    'kb/families.yaml': family.replace('adaptives: {stored_in: rom_chip}\n', ''),
  }),
  main('the family as it was', { 'kb/families.yaml': family }),
  main('an outcome under another id', { 'kb/left.yaml': left.replace('id: left', 'id: left-alone') }),
  main('an outcome that breaks the rule', { 'kb/odd.yaml': odd }),
  main('an exception for it', { 'kb/rules.yaml': excepted }),
  main('the check switched off in place of the exception', {
    'kb/swaplore.yaml': `${config}severity: {outcome-breaks-rule: off}\n`,
    'kb/rules.yaml': rule,
  }),
  main('the exception again', { 'kb/swaplore.yaml': config, 'kb/rules.yaml': excepted }),
  main('the law weakened to a rate', { 'kb/rules.yaml': `${excepted}at_least: 0.5\n` }),
  main('a law again', { 'kb/rules.yaml': excepted }),
  main('an observation flipped', {
    'kb/left.yaml': left
      .replace('id: left', 'id: left-alone')
      .replace('reached: spins\nresult: fails', 'reached: reads\nresult: works'),
  }),
  main('and back', { 'kb/left.yaml': left.replace('id: left', 'id: left-alone') }),
  main('a control removed', {
    'kb/left.yaml': left.replace('id: left', 'id: left-alone').replace('donor_on_own_board: works, ', ''),
  }),
  main('an outcome retracted', {
    'kb/odd.yaml': `${odd}retracted: {on: 2026-03-20, because: The drives were mixed up.}\n`,
  }),
  main('an outcome and the exception removed', { 'kb/odd.yaml': null, 'kb/rules.yaml': rule }),
  main('a file that cannot be read', { 'kb/d/8.yml': `${drive('d-0118')}  made: [\n` }),
  main('the file mended', { 'kb/d/8.yml': drive('d-0118') }),
  main('the base moved', {
    ...Object.fromEntries(
      [
        'swaplore.yaml',
        'makers.yaml',
        'families.yaml',
        'rules.yaml',
        'left.yaml',
        'outcomes/2026/moved.yaml',
        'd/7.yml',
        'd/8.yml',
      ].map((path) => [`kb/${path}`, null]),
    ),
    'bench/swaplore.yaml': config,
    'bench/makers.yaml': maker,
    'bench/families.yaml': family,
    'bench/rules.yaml': rule,
    'bench/left.yaml': left.replace('id: left', 'id: left-alone').replace('donor_on_own_board: works, ', ''),
    'bench/moved.yaml': moved,
    'bench/drives.yaml': `${drive('d-0117', 'firmware: SC61\n')}---\n${drive('d-0118')}`,
  }),
  {
    on: 'topic',
    from: 'main',
    means: 'on a branch: an outcome, and a law',
    puts: {
      'bench/third.yaml': outcome('third', third),
      'bench/law.yaml': rule.replace('travels', 'firmware-alike').replace('{rom_travels: true}', '{same: [firmware]}'),
    },
  },
  main('meanwhile: another outcome of that id, and a value that its law forbids', {
    'bench/3.yaml': outcome('third', third.replace('bench-1', 'bench-2')),
    'bench/drives.yaml': `${drive('d-0117', 'firmware: SC61\n')}---\n${drive('d-0118', 'firmware: SC70\n')}`,
  }),
  {
    on: 'main',
    merges: 'topic',
    means: 'the branch merged',
    puts: {
      'bench/third.yaml': outcome('third', third),
      'bench/law.yaml': rule.replace('travels', 'firmware-alike').replace('{rom_travels: true}', '{same: [firmware]}'),
    },
  },
];

function main(means: string, puts: Commit['puts']): KnownCommit {
  return { on: 'main', means, puts };
}
