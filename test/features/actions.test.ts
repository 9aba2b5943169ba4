import { expect, it } from 'vitest';
import { mendableBench } from '../harness/mendable-bench.ts';
import { type Offered, offeredActions } from '../harness/offered-actions.ts';

type Files = Readonly<Record<string, string>>;

const bench = {
  'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\n',
  'families/tern.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\nadaptives: { stored_in: rom_chip }\n',
  'drives/tern.yaml': 'kind: drive\nid: d-0117\nfamily: tern-2\n---\nkind: drive\nid: d-0118\nfamily: tern-2\n',
};

const law = { 'rules/tern.yaml': 'kind: rule\nid: tern-rom\nclaim: needs\nwhen: { rom_travels: true }\n' };

/** An outcome of the two drives, with what differs from case to case. */
function outcome(more: string): Files {
  const begin = 'kind: outcome\nid: one\ndate: 2026-03-14\npatient: d-0117\ndonor: d-0118\n';
  return { ...bench, 'outcomes/one.yaml': `${begin}${more}` };
}

/** The action with a title, and what becomes of the files it changes. */
function offered(files: Files, title: string): Offered {
  const all = offeredActions(files);
  const found = all.find((action) => action.title === title);
  if (!found) throw new Error(`Only this is offered: ${all.map((action) => action.title).join('; ')}`);
  return found;
}

/** The text of the one file that an action changes. */
function textAfter(files: Files, title: string): string {
  return Object.entries(offered(files, title).after)
    .map(([path, text]) => `== ${path}\n${text}`)
    .join('');
}

it('asks for all that a record lacks, where the schema has it', () => {
  const text = '$0kind: outcome\nid: one\n# wet\npatient: d-0117\nverify:\n  - bytes: 100\n    errors: 0\n';
  const title = 'Add what is required: `date`, `donor`, `reached`, `result` and `method`';
  expect(textAfter({ ...bench, 'one.yaml': text }, title)).toBe(`== one.yaml
kind: outcome
id: one
date: $1
# wet
patient: d-0117
donor: $2
verify:
  - method: \${3|checksum_scrub,hash_compare,read_pass,write_pass,mount_only|}
    bytes: 100
    errors: 0
reached: \${4|nothing,spins,ready,detected,reads,verified|}
result: \${5|works,fails,inconclusive|}
`);
});

it('asks for an id the way the base makes them, for words between quotes, and for what a list has to hold', () => {
  expect(textAfter({ ...bench, 'more.yaml': '$0kind: drive\n' }, 'Add what is required: `id` and `family`')).toBe(
    `== more.yaml\nkind: drive\nid: \${1:d-0119}\nfamily: $2\n`,
  );
  const title = 'Add what is required: `part_number` and `revisions`';
  expect(textAfter({ ...bench, 'k.yaml': '$0kind: board\nid: k\nmaker: wren\n' }, title)).toBe(
    '== k.yaml\nkind: board\nid: k\nmaker: wren\npart_number: "$1"\nrevisions:\n  - { rev: "$2" \\}\n',
  );
});

it('makes the record a reference lacks as the base has it', () => {
  const donor = outcome('reached: reads\nresult: works\n')['outcomes/one.yaml']!.replace('d-0118', 'd-$00119');
  // Drives share files here, so this one stands behind those with the nearest ids.
  expect(textAfter({ ...bench, 'outcomes/one.yaml': donor }, 'Record the drive `d-0119` in `drives/tern.yaml`')).toBe(
    `== drives/tern.yaml\n${bench['drives/tern.yaml']}---\nkind: drive\nid: d-0119\nfamily: ""\n`,
  );
  // Families have files of their own, beside one another.
  const family = { ...bench, 'drives/more.yaml': 'kind: drive\nid: d-0200\nfamily: t$0ern-3\n' };
  expect(textAfter(family, 'Record the family `tern-3` in the new file `families/tern-3.yaml`')).toBe(
    '== families/tern-3.yaml (new)\nkind: family\nid: tern-3\nmaker: ""\nname: ""\n',
  );
  // No board is recorded yet.
  const board = { ...bench, 'drives/more.yaml': 'kind: drive\nid: d-0200\nfamily: tern-2\nboard: {id: ke$0strel}\n' };
  expect(textAfter(board, 'Record the board `kestrel` in the new file `boards/kestrel.yaml`')).toBe(
    '== boards/kestrel.yaml (new)\nkind: board\nid: kestrel\nmaker: ""\npart_number: ""\nrevisions:\n  - { rev: "" }\n',
  );
});

it('asks for what the missing record needs where that comes into the text at hand', () => {
  const files = { 'all.yaml': 'kind: drive\nid: d-1\nfamily: $0tern-4\n' };
  expect(textAfter(files, 'Record the family `tern-4` in `all.yaml`')).toBe(
    '== all.yaml\nkind: drive\nid: d-1\nfamily: tern-4\n---\nkind: family\nid: tern-4\nmaker: $1\nname: "$2"\n',
  );
});

it('never makes a record over another file, or for a name of the wrong kind', () => {
  const drive = 'kind: drive\nid: d-0200\nfamily: tern$0-3\n';
  const taken = { ...bench, 'drives/more.yaml': drive, 'families/tern-3.yaml': '# To be written.\n' };
  expect(textAfter(taken, 'Record the family `tern-3` in `families/tern-3.yaml`')).toBe(
    '== families/tern-3.yaml\n# To be written.\nkind: family\nid: tern-3\nmaker: ""\nname: ""\n',
  );
  expect(titles({ ...bench, 'drives/more.yaml': 'kind: drive\nid: d-0200\nfamily: w$0ren\n' })).toEqual([]);
  const ignored = { ...taken, 'swaplore.yaml': 'swaplore: 1\nignore: [boards/**]\n' };
  expect(
    titles({ ...ignored, 'drives/more.yaml': 'kind: drive\nid: d-9\nfamily: tern-2\nboard: {id: k$0}\n' }),
  ).toEqual([]);
});

it('asks for the controls a failure lacks; what is recorded, or claims least, comes first', () => {
  const files = outcome(
    'rom: chip_moved\ncontrols:\n  donor_on_own_board: $0not_tested # late\nreached: spins\nresult: inconclusive\n',
  );
  const title = 'Record what a failure has to show: `donor_on_own_board`, `patient_on_own_board` and `rom_proved`';
  const { after, findings, isSure } = offered(files, title);
  expect(after['outcomes/one.yaml']).toContain(`rom: chip_moved
rom_proved: \${1|worked_after,read_back|}
controls:
  donor_on_own_board: \${2|not_tested,verified,works,fails|} # late
  patient_on_own_board: \${3|not_tested,fails,works,verified|}
reached: spins
`);
  expect([findings.map(({ check }) => check), isSure]).toEqual([['control-missing'], false]);
});

it('asks why a record is retracted', () => {
  const files = { 'makers/wren.yaml': '$0kind: maker\nid: wren\nname: Wren\n' };
  expect(textAfter(files, 'Retract the maker `wren`, with the reason')).toBe(
    `== makers/wren.yaml\nkind: maker\nid: wren\nname: Wren\nretracted: { on: \${1:2026-04-01}, because: "$2" \\}\n`,
  );
  const again = '$0kind: maker\nid: wren\nname: Wren\nretracted: { on: 2026-03-01, because: twice }\n';
  expect(titles({ 'makers/wren.yaml': again })).toEqual([]);
});

it('sorts the keys of a record at every depth', () => {
  const text = `# Late.
id: o$0ne
kind: outcome # k
# apart

controls:
    # borrowed
    swapped_back: both_work
    # own
    donor_on_own_board: works
x-job: 7
identity:
  - after: "1"
    value: serial
date: 2026-03-14
`;
  expect(textAfter({ 'one.yaml': text }, 'Sort the keys as the schema has them')).toBe(`== one.yaml
# Late.
kind: outcome # k
id: one
date: 2026-03-14
# apart

controls:
    # own
    donor_on_own_board: works
    # borrowed
    swapped_back: both_work
identity:
  - value: serial
    after: "1"
x-job: 7
`);
  expect(titles({ 'one.yaml': 'kind: maker\n$0id: wren\nname: Wren\n' })).not.toContain(
    'Sort the keys as the schema has them',
  );
  expect(titles({ 'one.yaml': 'i$0d: wren\nkind: maker\nouis: *a\nname: &a Wren\n' })).toEqual([]);
});

it('excepts an outcome from the rule it breaks, from either of the two', () => {
  const title = 'Except `one` from rule `tern-rom`, with the reason';
  const breaking = { ...outcome('rom: left\nreached: $0reads\nresult: works\n'), ...law };
  expect(textAfter(breaking, title)).toBe(
    `== rules/tern.yaml\n${law['rules/tern.yaml']}exceptions:\n  - { outcome: one, because: "$1" \\}\n`,
  );
  expect(offered(breaking, title).kind).toBe('quick-fix');
  const rule = `$0${law['rules/tern.yaml']}exceptions: [{ outcome: two, because: wet }]\n`;
  const atRule = { ...outcome('rom: left\nreached: reads\nresult: works\n'), 'rules/tern.yaml': rule };
  expect(textAfter(atRule, title)).toContain(
    'exceptions: [{ outcome: two, because: wet }, { outcome: one, because: "$1" \\}]\n',
  );
  expect(offered(atRule, title).kind).toBe('refactor');
});

it('makes a suggested repair of a rule', () => {
  const { 'rules/tern.yaml': rule } = mendableBench;
  const files = { ...mendableBench, 'rules/tern.yaml': `$0${rule}` };
  expect(textAfter(files, 'Add `same: [site]` to the condition of rule `tern-heads`')).toContain(
    'when: {same: [heads, site]}\n',
  );
  expect(textAfter(files, 'Make rule `tern-heads` a rate: `at_least: 0.83`')).toContain('at_least: 0.83\n');
  const outcomes = mendableBench['outcomes/more.yaml'].replace('reached: spins', 'reached: s$0pins');
  const atOutcome = offeredActions({ ...mendableBench, 'outcomes/more.yaml': outcomes });
  expect(atOutcome.map(({ title, isSure }) => `${isSure} ${title}`)).toEqual([
    'false Except `o-0` from rule `tern-heads`, with the reason',
    'false Add `same: [site]` to the condition of rule `tern-heads`',
    'false Make rule `tern-heads` a rate: `at_least: 0.83`',
  ]);
});

it('records the result that follows where none can be read', () => {
  const title = 'Record `works`, which follows from the rest';
  expect(textAfter(outcome('rom: left\nreached: reads\nresult: not_$0known\n'), title)).toContain('result: works\n');
  const { 'outcomes/one.yaml': text } = outcome('rom: left\nreached: reads\n');
  expect(textAfter({ ...bench, 'outcomes/one.yaml': `$0${text}` }, title)).toContain('reached: reads\nresult: works\n');
  // What stands in a value that cannot be read may change it.
  expect(titles({ ...bench, 'outcomes/one.yaml': `$0${text?.replace('left', 'lift')}` })).not.toContain(title);
});

it('offers nothing that has to be filled in without tab stops, and no new file where none can be made', () => {
  const rule = { ...law, 'rules/tern.yaml': `$0${law['rules/tern.yaml']}` };
  const files = { ...outcome('rom: left\nreached: reads\nresult: works\n'), ...rule };
  expect(titles(files)).toEqual([
    'Except `one` from rule `tern-rom`, with the reason',
    'Retract the rule `tern-rom`, with the reason',
  ]);
  expect(offeredActions(files, { hasSnippets: false })).toEqual([]);
  const family = { ...bench, 'drives/more.yaml': 'kind: drive\nid: d-0200\nfamily: t$0ern-3\n' };
  expect(offeredActions(family, { hasSnippets: false })).toHaveLength(1);
  expect(offeredActions(family, { hasNewFiles: false })).toEqual([]);
});

it('mends all that is sure at once, and nothing that asks', () => {
  const files = { 'wren.yaml': '$0kind: maker\nid: wren\nname: 0040\nouuis: [00-00-5E]\n' };
  const all = offeredActions(files, { only: new Set(['fix-all']) });
  expect(all.map(({ title, after }) => [title, after])).toEqual([
    [
      'Mend what follows from the file alone',
      { 'wren.yaml': 'kind: maker\nid: wren\nname: "0040"\nouis: [00-00-5E]\n' },
    ],
  ]);
});

it('offers what is about a record anywhere in it where that is asked for', () => {
  const files = { 'wren.yaml': 'kind: maker\nid: wren\nname: W$0ren\n' };
  expect(titles(files)).toEqual([]);
  const asked = offeredActions(files, { only: new Set(['refactor']) });
  expect(asked.map(({ title }) => title)).toEqual(['Retract the maker `wren`, with the reason']);
});

it('leaves alone a text that already holds what stands for something to be filled in', () => {
  expect(titles({ 'wren.yaml': '$0kind: maker\nid: wren\nname: to-be-filled-in-0-\n' })).toEqual([]);
});

function titles(files: Files): readonly string[] {
  return offeredActions(files).map(({ title }) => title);
}
