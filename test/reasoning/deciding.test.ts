import { describe, expect, it } from 'vitest';
import { deciding } from '../../server/src/core/reasoning/deciding.ts';
import { loadFiles } from '../harness/lint-files.ts';
import { type SwapBase, swapBase } from '../harness/swap-base.ts';

interface Case extends SwapBase {
  /** The rule from its claim on. */
  readonly rule: string;
}

const controlled = 'rom: left\ncontrols: {swapped_back: both_work}';

/** What is asked for, case by case: `record key` for each key. */
async function wanted({ rule, ...base }: Case): Promise<string[][]> {
  const files = { ...base.files, 'rules/tern.yaml': `kind: rule\nid: tern-rule\n${rule}\n` };
  const snapshot = await loadFiles(swapBase({ outcome: controlled, ...base, files }));
  return deciding(snapshot).map(({ keys }) =>
    keys.map(({ record, rev, key }) => (rev === undefined ? `${record} ${key}` : `${record} ${rev} ${key}`)),
  );
}

const board =
  'kind: board\nid: w100\nmaker: wren\npart_number: W100\nrevisions: [{rev: A}, {rev: B, contact_pads: 18}]\n';
const failed = { reached: 'spins', result: 'inconclusive' };

describe('what would decide asks for', () => {
  it('the keys of both drives that a condition compares', async () => {
    expect(await wanted({ rule: 'claim: needs\nwhen: {same: [firmware]}' })).toEqual([
      ['drive/d-0117 firmware', 'drive/d-0118 firmware'],
    ]);
    expect(await wanted({ rule: 'claim: needs\nwhen: {same: [firmware]}', patient: 'firmware: F1' })).toEqual([
      ['drive/d-0118 firmware'],
    ]);
  });

  it('nothing where the outcome is decided', async () => {
    const drives = { patient: 'firmware: F1', donor: 'firmware: F2' };
    expect(await wanted({ rule: 'claim: needs\nwhen: {same: [firmware]}', ...drives })).toEqual([]);
  });

  it('the keys that are open, not those that are known', async () => {
    const rule = 'claim: needs\nwhen: {same: [firmware, model]}';
    expect(await wanted({ rule, patient: 'firmware: F1\nmodel: M', donor: 'model: M' })).toEqual([
      ['drive/d-0118 firmware'],
    ]);
  });

  it('the board where only the revision is compared', async () => {
    expect(
      await wanted({
        rule: 'claim: needs\nwhen: {same: [rev]}',
        patient: 'board: {id: w100, rev: A}',
        files: { 'b.yaml': board },
      }),
    ).toEqual([['drive/d-0118 board', 'drive/d-0118 rev']]);
  });

  it('a part of the revision, once, where both drives share it', async () => {
    const both = { patient: 'board: {id: w100, rev: A}', donor: 'board: {id: w100, rev: a}' };
    const files = { 'b.yaml': board };
    expect(await wanted({ rule: 'claim: needs\nwhen: {patient: {contact_pads: 18}}', ...both, files })).toEqual([
      ['board/w100 A contact_pads'],
    ]);
  });

  it('the revision of a drive where a part is open that drives do not record', async () => {
    const rule = 'claim: needs\nwhen: {same: [contact_pads]}';
    expect(
      await wanted({
        rule,
        patient: 'board: {id: w100, rev: B}',
        donor: 'board: {id: w100}',
        files: { 'b.yaml': board },
      }),
    ).toEqual([['drive/d-0118 rev']]);
  });

  it('what was done about the ROM, and where the family keeps its adaptives', async () => {
    const rule = 'claim: needs\nwhen: {rom_travels: true}';
    expect(await wanted({ rule, outcome: 'controls: {swapped_back: both_work}' })).toEqual([
      ['family/tern-2 adaptives.stored_in', 'outcome/one rom'],
    ]);
  });

  it('dates of manufacture, for a condition or for the scope', async () => {
    expect(await wanted({ rule: 'claim: needs\nwhen: {made_within_weeks: 4}', donor: 'made: 2012-W31' })).toEqual([
      ['drive/d-0117 made'],
    ]);
    const scoped = 'applies_to: {made: {from: 2012}}\nclaim: needs\nwhen: {rom_travels: false}';
    const family = 'adaptives: {stored_in: platters}';
    expect(await wanted({ rule: scoped, family })).toEqual([['drive/d-0117 made']]);
  });

  it('controls that would make a failure of it', async () => {
    const rule = 'claim: enough\nwhen: {same: [family]}';
    expect(await wanted({ rule, ...failed, outcome: 'rom: chip_moved' })).toEqual([
      [
        'outcome/one controls.donor_on_own_board',
        'outcome/one controls.patient_on_own_board',
        'outcome/one rom_proved',
      ],
    ]);
    expect(await wanted({ rule, ...failed, family: 'host_needs: [jumper]' })).toEqual([['outcome/one host.meets']]);
  });

  it('another outcome of the patient where its own board is dead or it clicks', async () => {
    const rule = 'claim: enough\nwhen: {same: [family]}';
    const dead = ['outcome/one controls.hda_proved_by'];
    const own = ['outcome/one controls.patient_on_own_board'];
    const with1 = (patient: string, more: string) =>
      wanted({ rule, ...failed, patient, outcome: `rom: left\n${more}` });
    const donor = 'donor_on_own_board: works';
    expect(await with1('', `controls: {${donor}, patient_on_own_board: fails}`)).toEqual([dead]);
    expect(await with1('condition: {board: faulty}', `controls: {${donor}}`)).toEqual([dead]);
    expect(await with1('parts: hda_only', `controls: {${donor}}`)).toEqual([dead]);
    expect(await with1('', `controls: {${donor}}\nobserved: {sound: clicking}`)).toEqual([dead]);
    expect(await with1('', `controls: {${donor}, patient_on_own_board: not_tested}`)).toEqual([own]);
  });

  it('controls of a success where the rule is a rate', async () => {
    const rule = 'claim: enough\nwhen: {same: [family]}';
    const uncontrolled = 'rom: left\ncontrols: {donor_on_own_board: works}';
    expect(await wanted({ rule, outcome: uncontrolled })).toEqual([]);
    expect(await wanted({ rule: `${rule}\nat_least: 0.5`, outcome: uncontrolled })).toEqual([
      ['outcome/one controls.patient_on_own_board'],
    ]);
  });

  it('hours of a patient that still answers, and of no other', async () => {
    const rule = 'claim: needs\nwhen: {patient: {power_on_hours: {from: 100}}}';
    expect(await wanted({ rule })).toEqual([['outcome/one power_on_hours.patient_before']]);
    expect(await wanted({ rule, outcome: 'rom: left\ncontrols: {patient_on_own_board: fails}' })).toEqual([]);
  });

  it('most useful keys first', async () => {
    const two =
      'kind: outcome\nid: two\ndate: 2026-03-15\npatient: d-0117\ndonor: d-0119\nrom: left\nreached: reads\nresult: works\n';
    const files = { 'two.yaml': two, 'c.yaml': 'kind: drive\nid: d-0119\nfamily: tern-2\n' };
    expect(await wanted({ rule: 'claim: needs\nwhen: {same: [site]}', files })).toEqual([
      ['drive/d-0117 site', 'drive/d-0118 site'],
      ['drive/d-0117 site', 'drive/d-0119 site'],
    ]);
  });
});

describe('what would decide never asks for', () => {
  it('what can only be read inside', async () => {
    expect(await wanted({ rule: 'claim: needs\nwhen: {same: [preamp]}' })).toEqual([]);
    expect(await wanted({ rule: 'claim: needs\nwhen: {same: [preamp, site]}' })).toEqual([
      ['drive/d-0117 site', 'drive/d-0118 site'],
    ]);
    // Alone it would not do: both have to hold.
    expect(
      await wanted({ rule: 'claim: enough\nwhen: {same: [preamp, site]}', reached: 'spins', result: 'fails' }),
    ).toEqual([]);
  });

  it('anything about an outcome that no control can mend', async () => {
    const rule = 'claim: enough\nwhen: {same: [site]}';
    const hopeless = (controls: string, donor = '') =>
      wanted({ rule, ...failed, donor, outcome: `rom: left\ncontrols: {${controls}}` });
    expect(await hopeless('donor_on_own_board: fails, patient_on_own_board: works')).toEqual([]);
    expect(await hopeless('donor_on_own_board: works, patient_on_own_board: works, swapped_back: donor_fails')).toEqual(
      [],
    );
    expect(await hopeless('patient_on_own_board: works', 'parts: board_only')).toEqual([]);
  });

  it('keys of which the rule would learn nothing', async () => {
    // A failure says something about what is enough only where the condition is met, and about a need only where it is not.
    const same = { patient: 'site: KL', donor: 'site: KL' };
    const open = { ...failed, outcome: 'rom: left' };
    expect(await wanted({ rule: 'claim: enough\nwhen: {same: [site]}', ...same, ...open })).toHaveLength(1);
    expect(await wanted({ rule: 'claim: needs\nwhen: {same: [site]}', ...same, ...open })).toEqual([]);
  });

  it('a value that stands there and cannot be read, which is reported', async () => {
    const rule = 'claim: needs\nwhen: {same: [firmware]}';
    expect(await wanted({ rule, patient: 'firmware: 7', donor: 'firmware: F1' })).toEqual([]);
  });
});

it('names where each key of a condition would be recorded', async () => {
  const onBoards = {
    patient: 'board: {id: w100, rev: A}',
    donor: 'board: {id: w100, rev: B}',
    files: { 'b.yaml': board },
  };
  const cases: readonly (readonly [when: string, base?: Omit<SwapBase, 'config'>])[] = [
    ...[
      'model',
      'part_number',
      'rom_version',
      'country',
      'capacity_gb',
      'head_map',
      'head_stack_code',
      'heads',
      'family',
    ].map((key) => [`{same: [${key}]}`] as const),
    ['{same: [board]}'],
    ['{same: [rev]}'],
    ['{same: [rev]}', { patient: 'board: {id: w100}', donor: 'board: {id: w100, rev: B}', files: { 'b.yaml': board } }],
    ['{same: [sticker]}'],
    ['{same: [controller]}', onBoards],
    ['{same: [motor_driver]}', { ...onBoards, donor: '' }],
    ['{same: [contact_pads]}', onBoards],
    ['{same: [rom_package]}', onBoards],
    ['{revision: drop_in}'],
    ['{revision: drop_in}', onBoards],
    ['{rom_travels: true}'],
    [
      '{rom_travels: true}',
      { outcome: 'controls: {swapped_back: both_work}', family: 'adaptives: {stored_in: rom_chip}' },
    ],
    ['{family_is: {interface: sata}}'],
    ['{family_is: {adaptives: rom_chip}}'],
    ['{family_is: {adaptives: rom_chip}}', { files: { 'drives/a.yaml': 'kind: drive\nid: d-0117\n' } }],
    ['{made_within_weeks: 4}', { donor: 'made: 2012-03' }],
    ['{donor: {power_on_hours: {from: 100}}}'],
    ['{donor: {power_on_hours: {from: 100}}}', { outcome: 'rom: left\ncontrols: {donor_on_own_board: fails}' }],
    ['{patient: {rev: w100/A}}', { files: { 'b.yaml': board } }],
    ['{any: [{same: [site]}, {same: [model]}]}', { patient: 'site: KL', donor: 'site: SB' }],
    ['{none: [{same: [site]}]}', { patient: 'site: KL' }],
  ];
  const told: string[] = [];
  for (const [when, base] of cases) {
    const keys = await wanted({ rule: `claim: needs\nwhen: ${when}`, ...base });
    told.push(`${when}: ${keys.map((list) => list.join(', ')).join(' | ')}`);
  }
  expect(told).toMatchInlineSnapshot(`
    [
      "{same: [model]}: drive/d-0117 model, drive/d-0118 model",
      "{same: [part_number]}: drive/d-0117 part_number, drive/d-0118 part_number",
      "{same: [rom_version]}: drive/d-0117 rom_version, drive/d-0118 rom_version",
      "{same: [country]}: drive/d-0117 country, drive/d-0118 country",
      "{same: [capacity_gb]}: drive/d-0117 capacity_gb, drive/d-0118 capacity_gb",
      "{same: [head_map]}: drive/d-0117 head_map, drive/d-0118 head_map",
      "{same: [head_stack_code]}: drive/d-0117 head_stack_code, drive/d-0118 head_stack_code",
      "{same: [heads]}: drive/d-0117 heads, drive/d-0118 heads",
      "{same: [family]}: ",
      "{same: [board]}: drive/d-0117 board, drive/d-0118 board",
      "{same: [rev]}: drive/d-0117 board, drive/d-0117 rev, drive/d-0118 board, drive/d-0118 rev",
      "{same: [rev]}: drive/d-0117 rev",
      "{same: [sticker]}: drive/d-0117 sticker, drive/d-0118 sticker",
      "{same: [controller]}: board/w100 A controller, board/w100 B controller",
      "{same: [motor_driver]}: board/w100 A motor_driver, drive/d-0118 motor_driver",
      "{same: [contact_pads]}: board/w100 A contact_pads",
      "{same: [rom_package]}: board/w100 A rom_package, board/w100 B rom_package",
      "{revision: drop_in}: drive/d-0117 board, drive/d-0117 rev, drive/d-0118 board, drive/d-0118 rev",
      "{revision: drop_in}: ",
      "{rom_travels: true}: family/tern-2 adaptives.stored_in",
      "{rom_travels: true}: outcome/one rom",
      "{family_is: {interface: sata}}: family/tern-2 interface",
      "{family_is: {adaptives: rom_chip}}: family/tern-2 adaptives.stored_in",
      "{family_is: {adaptives: rom_chip}}: drive/d-0117 family",
      "{made_within_weeks: 4}: drive/d-0117 made",
      "{donor: {power_on_hours: {from: 100}}}: outcome/one power_on_hours.donor_before",
      "{donor: {power_on_hours: {from: 100}}}: ",
      "{patient: {rev: w100/A}}: drive/d-0117 board, drive/d-0117 rev",
      "{any: [{same: [site]}, {same: [model]}]}: drive/d-0117 model, drive/d-0118 model",
      "{none: [{same: [site]}]}: drive/d-0118 site",
    ]
  `);
});

it('names what a control would have to show', async () => {
  const cases: readonly Omit<SwapBase, 'config'>[] = [
    { outcome: 'rom: left' },
    { outcome: 'controls: {donor_on_own_board: works}' },
    { outcome: 'rom: chip_moved\ncontrols: {donor_on_own_board: works, patient_on_own_board: works}' },
    { outcome: 'rom: left\ncontrols: {donor_on_own_board: works, patient_on_own_board: fails}' },
    { outcome: 'rom: left\ncontrols: {donor_on_own_board: works}\nobserved: {sound: clicking}' },
    { outcome: 'rom: left\ncontrols: {donor_on_own_board: works}\nobserved: {sound: grinding}' },
    { outcome: 'rom: left\ncontrols: {donor_on_own_board: works}\nobserved: {sound: beeping}' },
    { outcome: 'rom: left\ncontrols: {donor_on_own_board: works}\nobserved: {sound: normal}' },
    { outcome: 'rom: left\ncontrols: {donor_on_own_board: works}', patient: 'condition: {board: faulty}' },
    { outcome: 'rom: left\ncontrols: {donor_on_own_board: works}', patient: 'condition: {media: failed}' },
    { outcome: 'rom: left\ncontrols: {donor_on_own_board: works}', patient: 'parts: hda_only' },
    { outcome: 'rom: left\ncontrols: {patient_on_own_board: works}', donor: 'parts: board_only' },
    {
      outcome: 'rom: left\ncontrols: {donor_on_own_board: works, patient_on_own_board: works}',
      family: 'host_needs: [jumper]',
    },
  ];
  const told: string[] = [];
  for (const base of cases) {
    const keys = await wanted({ rule: 'claim: enough\nwhen: {same: [family]}', ...failed, ...base });
    told.push(`${JSON.stringify(base)}: ${keys.map((list) => list.join(', ')).join(' | ')}`);
  }
  expect(told).toMatchInlineSnapshot(`
    [
      "{"outcome":"rom: left"}: outcome/one controls.donor_on_own_board, outcome/one controls.patient_on_own_board",
      "{"outcome":"controls: {donor_on_own_board: works}"}: outcome/one controls.patient_on_own_board, outcome/one rom, outcome/one rom_proved",
      "{"outcome":"rom: chip_moved\\ncontrols: {donor_on_own_board: works, patient_on_own_board: works}"}: outcome/one rom_proved",
      "{"outcome":"rom: left\\ncontrols: {donor_on_own_board: works, patient_on_own_board: fails}"}: outcome/one controls.hda_proved_by",
      "{"outcome":"rom: left\\ncontrols: {donor_on_own_board: works}\\nobserved: {sound: clicking}"}: outcome/one controls.hda_proved_by",
      "{"outcome":"rom: left\\ncontrols: {donor_on_own_board: works}\\nobserved: {sound: grinding}"}: outcome/one controls.hda_proved_by",
      "{"outcome":"rom: left\\ncontrols: {donor_on_own_board: works}\\nobserved: {sound: beeping}"}: outcome/one controls.hda_proved_by",
      "{"outcome":"rom: left\\ncontrols: {donor_on_own_board: works}\\nobserved: {sound: normal}"}: outcome/one controls.patient_on_own_board",
      "{"outcome":"rom: left\\ncontrols: {donor_on_own_board: works}","patient":"condition: {board: faulty}"}: outcome/one controls.hda_proved_by",
      "{"outcome":"rom: left\\ncontrols: {donor_on_own_board: works}","patient":"condition: {media: failed}"}: outcome/one controls.hda_proved_by",
      "{"outcome":"rom: left\\ncontrols: {donor_on_own_board: works}","patient":"parts: hda_only"}: outcome/one controls.hda_proved_by",
      "{"outcome":"rom: left\\ncontrols: {patient_on_own_board: works}","donor":"parts: board_only"}: ",
      "{"outcome":"rom: left\\ncontrols: {donor_on_own_board: works, patient_on_own_board: works}","family":"host_needs: [jumper]"}: outcome/one host.meets",
    ]
  `);
});
