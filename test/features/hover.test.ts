import { describe, expect, it } from 'vitest';
import { hoverAt } from '../../server/src/core/features/hover.ts';
import { hoverPlainText } from '../../server/src/core/features/render-hover.ts';
import { openAt } from '../harness/open-at.ts';

/** A maker, a family with its board, and four drives of which the last is of another revision. */
const bench = {
  'makers/wren.yaml': `kind: maker
id: wren
name: Wren
ouis: [00-00-5E]
date_code: [{scheme: iso_week, format: YYWW}]
`,
  'families/tern.yaml': `kind: family
id: tern-2
maker: wren
name: Tern 2
interface: sata
sector_bytes: {logical: 512}
adaptives: {stored_in: rom_chip}
identity: {serial: platters}
`,
  'boards/kestrel.yaml': `kind: board
id: kestrel
maker: wren
part_number: KS-7
families: [tern-2]
revisions:
  - rev: A1
    controller: KNT40
    roms: [{location: U7, package: soic16, bytes: 524288}]
    photos: [{file: ../photos/a1.svg, shows: Front}, {file: ../../out.svg}]
  - {rev: B2, drop_in_for: [A1]}
`,
  'drives/tern.yaml': [
    ['d-1', 'A1'],
    ['d-2', 'A1'],
    ['d-3', 'A1'],
    ['d-4', 'B2'],
  ]
    .map(
      ([id, rev]) =>
        `kind: drive\nid: ${id}\nfamily: tern-2\nmodel: TN-1\ncapacity_gb: 1000\nboard: {id: kestrel, rev: ${rev}}\n`,
    )
    .join('---\n'),
  'outcomes/tern.yaml': [
    outcome('moved', 'd-1', 'd-2', 'chip_moved', 'reads'),
    outcome('moved-again', 'd-2', 'd-1', 'chip_moved', 'spins'),
    outcome('moved-third', 'd-1', 'd-3', 'chip_moved', 'verified'),
    outcome('other-board', 'd-1', 'd-4', 'chip_moved', 'spins'),
    outcome('left', 'd-2', 'd-3', 'left', 'spins'),
    outcome('uncontrolled', 'd-3', 'd-4', 'chip_moved', 'reads').replace('controls: {swapped_back: both_work}\n', ''),
  ].join('---\n'),
  'rules/tern.yaml': `kind: rule
id: tern-rom
applies_to: {families: [tern-2]}
claim: needs
when: {rom_travels: true}
because: It *has* to <b>travel</b>.
`,
};

function outcome(id: string, patient: string, donor: string, rom: string, reached: string): string {
  const result = reached === 'spins' ? 'fails' : 'works';
  return `kind: outcome
id: ${id}
date: 2026-03-14
patient: ${patient}
donor: ${donor}
rom: ${rom}
controls: {swapped_back: both_work}
reached: ${reached}
result: ${result}
`;
}

/** The hover at the cursor of a file that joins the bench, title first; `no hover` where there is none. */
function at(
  marked: string,
  path = 'new.yaml',
  isIndexed = true,
  beside: Readonly<Record<string, string>> = {},
): string {
  const { file, offset } = openAt({ ...bench, ...beside, [path]: marked }, { isIndexed });
  const hover = hoverAt(file, offset);
  return hover ? hoverPlainText(hover) : 'no hover';
}

const drive = 'kind: drive\nid: d-9\nfamily: tern-2\n';

describe('what the base says of a key', () => {
  it('counts pairs, each one vote, with equal values and with different ones', () => {
    // Pair d-1 and d-2 worked once in two tries; the outcome without controls counts nowhere.
    expect(at(`${drive}board: {id: kestrel, $0rev: A1}\n`)).toContain(`In this base:
- In the drives of \`tern-2\`: \`A1\` 4, \`B2\` 1.
- In \`tern-2\`, ROM travelled: 1.5 of 2 controlled pairs with equal \`rev\` worked, 0 of 1 with different ones.
- In \`tern-2\`, ROM did not travel: 0 of 1 controlled pair with equal \`rev\` worked.`);
  });

  it('says the same of a key that a condition names', () => {
    expect(at('kind: rule\nid: r\nclaim: needs\nwhen: {same: [re$0v]}\napplies_to: {families: [tern-2]}\n')).toBe(
      `Same · \`rev\`

The revision of the board, spelt as its board record lists it.

In this base:
- In \`tern-2\`, ROM travelled: 1.5 of 2 controlled pairs with equal \`rev\` worked, 0 of 1 with different ones.
- In \`tern-2\`, ROM did not travel: 0 of 1 controlled pair with equal \`rev\` worked.`,
    );
  });

  it('says which values are in use in the outcomes of the family, and how pairs fared with the ROM', () => {
    expect(at(outcome('new', 'd-3', 'd-2', 'left', 'spins').replace('rom', '$0rom'))).toContain(`In this base:
- In the outcomes of \`tern-2\`: \`chip_moved\` 5, \`left\` 2.
- In \`tern-2\` · ROM travelled: 1.5 of 3 pairs worked (4 drives, 1 independent; exact 0–100 %) · ROM did not travel: 0 of 1 pair worked (exact 0–98 %) · not counted: 1 that worked without every control.`);
  });

  it('counts records without a value, and those of other kinds within the kind', () => {
    expect(at('kind: family\nid: x\nmaker: wren\nname: X\n$0interface: usb\n')).toContain(
      'In the families of this base: `sata` 1, `usb` 1.',
    );
    expect(at(`${drive}$0data: test\n`)).toContain('In the drives of `tern-2`: `test` 1, not recorded 4.');
  });

  it('does not ask whether the ROM travelled where nothing has to', () => {
    const files = {
      ...bench,
      'families/tern.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: T\nadaptives: {stored_in: platters}\n',
    };
    const { file, offset } = openAt({ ...files, 'new.yaml': `${drive}$0model: TN-1\n` });
    expect(hoverPlainText(hoverAt(file, offset)!)).toContain(
      '- In `tern-2`: 1.5 of 4 controlled pairs with equal `model` worked.',
    );
  });

  it('counts what stands to a rule', () => {
    const rule = bench['rules/tern.yaml'].replace('claim', '$0claim');
    expect(at(rule, 'rules/tern.yaml')).toContain('4 outcomes in support · 0 against · 0 undecided.');
  });

  it('says nothing where there is nothing to say, and nothing before the base is indexed', () => {
    expect(at('kind: drive\nid: d-9\nfamily: gull\n$0model: G-1\n')).not.toContain('In this base');
    expect(at(`${drive}board: {id: kestrel, $0rev: A1}\n`, 'new.yaml', false)).not.toContain('In this base');
  });

  it('lists the most frequent of many values', () => {
    const models = [1, 2, 3, 4, 5, 6, 7].map((n) => `kind: drive\nid: m-${n}\nfamily: gull\nmodel: G-${n}\n`);
    expect(at([...models, 'kind: drive\nid: d-9\nfamily: gull\n$0model: G-1\n'].join('---\n'))).toContain(
      'In the drives of `gull`: `G-1` 2, `G-2` 1, `G-3` 1, `G-4` 1, `G-5` 1, 2 other values.',
    );
  });
});

describe('the record a value names', () => {
  it('is a drive', () => {
    expect(at(outcome('new', '$0d-4', 'd-2', 'left', 'spins'))).toBe(`Drive · \`d-4\`

Family: \`tern-2\`
Model: \`TN-1\`
Board: \`kestrel\`, revision \`B2\``);
  });

  it('is a board, whose revision has the photos that lie inside the base', () => {
    expect(at('kind: drive\nid: d-9\nboard: {id: ke$0strel}\n')).toBe(`Board · \`kestrel\`

Board part number: \`KS-7\`
Maker: \`wren\`
Families: \`tern-2\`
Revision: \`A1\`, \`B2\``);
    expect(at('kind: drive\nid: d-9\nboard: {id: kestrel, rev: $0a1}\n')).toBe(`Revision · \`kestrel/A1\`

Board: \`kestrel\`
Main controller: \`KNT40\`
ROM: \`U7\`, \`soic16\`, \`524288\` bytes

Photo: photos/a1.svg: Front`);
  });

  it('is a revision, in a condition and among the claims of a board', () => {
    expect(at('kind: rule\nid: r\nclaim: needs\nwhen: {donor: {rev: $0kestrel/B2}}\n')).toBe(`Revision · \`kestrel/B2\`

Board: \`kestrel\`
Drop-in for: \`A1\``);
    expect(at(bench['boards/kestrel.yaml'].replace('[A1]', '[$0A1]'), 'boards/kestrel.yaml')).toContain(
      'Revision · `kestrel/A1`',
    );
  });

  it('is a family, a maker, a rule', () => {
    expect(at('kind: drive\nid: d-9\nfamily: $0tern-2\n')).toBe(`Family · \`tern-2\`

Family name: \`Tern 2\`
Maker: \`wren\`
Interface: \`sata\`
Adaptives stored in: \`rom_chip\`

In this base:
- In \`tern-2\` · ROM travelled: 1.5 of 3 pairs worked (4 drives, 1 independent; exact 0–100 %) · ROM did not travel: 0 of 1 pair worked (exact 0–98 %) · not counted: 1 that worked without every control.`);
    expect(at('kind: family\nid: x\nmaker: $0wren\n')).toBe(`Maker · \`wren\`

Maker's name: \`Wren\`
IEEE prefixes: \`00-00-5E\`
Code format: \`YYWW\``);
    expect(at(bench['rules/tern.yaml'].replace('tern-rom', '$0tern-rom'), 'rules/tern.yaml')).toBe(`Rule · \`tern-rom\`

Claim: at \`reads\` a swap needs \`rom_travels: true\`
Families: \`tern-2\`
Because: It *has* to <b>travel</b>.

In this base:
- 4 outcomes in support · 0 against · 0 undecided.`);
  });

  it('is an outcome, with what it is evidence of once the base is indexed', () => {
    const text = outcome('new', 'd-1', 'd-2', 'left', 'spins').replace(
      'both_work',
      'both_work, hda_proved_by: $0moved',
    );
    expect(at(text)).toBe(`Outcome · \`moved\`

Date: \`2026-03-14\`
Patient: \`d-1\`
Donor: \`d-2\`
ROM: \`chip_moved\`
Reached: \`reads\`
Result: \`works\`

At \`spins\` to \`reads\`: works
At \`verified\`: inconclusive, because nothing shows the donor's board good at \`verified\` on its own drive; nothing shows the patient's head-disk assembly good at \`verified\``);
    expect(at(text, 'new.yaml', false)).not.toContain('At `');
  });

  it('is none where nobody recorded it, and says so of a retracted one', () => {
    expect(at('kind: drive\nid: d-9\nfamily: $0gull\n')).toBe('no hover');
    expect(at('kind: maker\nid: $0old\nname: Old\nretracted: {on: 2026-01-01, because: doubled}\n')).toMatch(
      /^Maker · `old` · retracted\n\nReason for retracting: doubled\n/,
    );
  });
});

describe('a record in brief', () => {
  it('cuts what would fill the screen', () => {
    const families = Array.from({ length: 12 }, (_, position) => `f-${position}`).join(', ');
    const because = 'as was seen '.repeat(40);
    const rule = `kind: rule\nid: $0wide\nclaim: needs\nwhen: {rom_travels: true}\napplies_to: {families: [${families}]}\nbecause: ${because}\n`;
    expect(at(rule)).toContain('`f-8`, `f-9` and 2 more\n');
    expect(at(rule)).toMatch(/\nBecause: (?:as was seen )+…\n/);
  });
});

describe('the hover of a value', () => {
  it('says what a fixed choice means', () => {
    expect(at('kind: outcome\nrom: chip_m$0oved\n')).toBe(`ROM · \`chip_moved\`

The patient's ROM chip went over to the donor's board.`);
    expect(at('swaplore: 1\nserials: $0masked\n', 'swaplore.yaml')).toMatch(/^Serial numbers · `masked`\n\n/);
  });

  it('says what an outcome lacks to be decided', () => {
    expect(
      at(
        outcome('new', 'd-1', 'd-2', 'left', '$0spins').replace('swapped_back: both_work', 'donor_on_own_board: works'),
      ),
    ).toBe(`Reached · \`spins\`

The motor runs up.

At \`spins\`: works
At \`ready\` to \`reads\`: inconclusive, because nothing shows the patient's head-disk assembly good at \`ready\`
At \`verified\`: inconclusive, because nothing shows the donor's board good at \`verified\` on its own drive; nothing shows the patient's head-disk assembly good at \`verified\``);
  });

  // Source: ISO 8601 weeks, by Python `date.fromisocalendar(2012, 31, 1)`.
  it('gives the days of a week and of a date code', () => {
    expect(at(`${drive}made: 2012-$0W31\n`)).toBe('Date of manufacture · `2012-W31`\n\nDays: 2012-07-30 to 2012-08-05');
    expect(at(`${drive}date_code: "12$031"\n`)).toBe(
      'Date code · `1231`\n\nReading: 2012-07-30 to 2012-08-05, by scheme `iso_week`, format `YYWW`, of maker `wren`',
    );
    expect(at(`${drive}date_code: "12$071"\n`)).toContain('Reading: week 71 of 2012, which does not exist');
    expect(at(`${drive}date_code: "12/$031"\n`)).toContain('Reading: no scheme of the maker reads it');
    expect(at(`${drive}made: 2012-0$08\n`)).toBe('no hover');
  });

  // Source: the parts as `sg_vpd` of sg3-utils 1.46 prints them, see test/terms/wwn.test.ts.
  it('takes a world-wide name apart', () => {
    expect(at(`${drive}wwn: "5000$005e000530001"\n`)).toBe(`World-wide name · \`500005e000530001\`

Layout: NAA 5, IEEE registered
IEEE prefix: \`00-00-5E\` of maker \`wren\`
Maker's number: \`000530001\``);
    expect(at(`${drive}wwn: "5000$0a5e000530001"\n`)).toContain(
      'IEEE prefix: `00-0A-5E`, which no maker of this base lists',
    );
    expect(at(`${drive}wwn: "5000$0a5e000530001"\n`, 'new.yaml', false)).toContain('IEEE prefix: `00-0A-5E`\n');
    expect(at(`${drive}wwn: "5$00"\n`)).toContain('Fault: has 2 hexadecimal digits, but a world-wide name has 16');
    const row = `${outcome('new', 'd-1', 'd-2', 'left', 'spins')}identity: [{value: wwn, after: "3123$0456789abcdef"}]\n`;
    expect(at(row)).toContain('Local number: `123456789abcdef`');
  });

  // Source: IDEMA LBA1-02 and LBA1-03; 1,953,525,168 sectors for 1,000 GB also stand in public logs of such drives.
  it('gives the usual number of sectors of a nominal size, and the size of a number of sectors', () => {
    expect(at(`${drive}capacity_gb: 10$000\n`)).toContain(
      'Usual size: 1,953,525,168 sectors of 512 bytes (formula of IDEMA LBA1-03)',
    );
    expect(at(`${drive}capacity_gb: 1000\nlba_count: $01953525168\n`)).toBe(`Sector count · \`1953525168\`

Size: 1.0002 TB in sectors of 512 bytes
Against 1,000 GB: just the usual number of sectors (formula of IDEMA LBA1-03)`);
    expect(at(`${drive}capacity_gb: 1000\nlba_count: $01953525000\n`)).toContain('168 sectors fewer than usual');
    expect(at('kind: family\nid: x\ncapacities_gb: [10$000]\n')).toContain(
      'Usual size: 244,190,646 sectors of 4,096 bytes (formula of IDEMA LBA1-03)',
    );
    expect(at('kind: drive\nid: d-9\nlba_count: $01953525168\n')).toBe(
      'Sector count · `1953525168`\n\nSize: 1.0002 TB in sectors of 512 bytes\nSize: 8.0016 TB in sectors of 4,096 bytes',
    );
    expect(at(bench['boards/kestrel.yaml'].replace('524288', '$0524288'), 'boards/kestrel.yaml')).toContain(
      'Size: 512 KiB, a chip of 4 Mbit',
    );
  });

  it('gives hours as years', () => {
    expect(at(`${drive}power_on_hours: 17$0532\n`)).toBe(
      'Power-on hours · `17532`\n\nYears: 2 of running day and night',
    );
  });

  it('says which share of the patient was compared', () => {
    const verified = (rows: string): string =>
      at(`${outcome('new', 'd-1', 'd-2', 'left', 'reads')}verify: [${rows}]\n`);
    expect(verified('{method: hash_compare, bytes: $030000000000, errors: 0}')).toBe(`Bytes · \`30000000000\`

Size: 30 GB
Verified: 3 % of the patient compared without error; this base asks for 2 %`);
    expect(verified('{method: hash_compare, bytes: $030000000000, errors: 2}')).toContain('a comparing row has errors');
    expect(verified('{method: hash_compare, bytes: 30000000000, $0errors: 0}')).toMatch(
      /\nRead from: [\s\S]*\n\nVerified: 3 %/,
    );
    expect(verified('{method: $0read_pass, bytes: 30000000000}')).toContain('Verified: no row compares content');
  });

  // Source of the bound: 1 - 0.05^(1/n), Hanley and Lippman-Hand, JAMA 249 (1983) 1743; here about 2.9957/2,441,406.
  it('says what blocks without error leave possible, and how long all would take', () => {
    const verified = (rows: string): string =>
      at(`${outcome('new', 'd-1', 'd-2', 'left', 'reads')}verify: [${rows}]\n`);
    const bound =
      'Unreadable: at most 1 in 810,000 (95 %), as 2,441,406 blocks of 4,096 bytes showed no error, if bad ones lie singly';
    const row = 'method: read_pass, bytes: 10000000000, errors: 0';
    expect(verified(`{${row}, where: $0spread}`)).toContain(bound);
    expect(verified(`{${row}, $0where: spread}`)).toContain(bound);
    expect(verified(`{${row}, where: $0files}`)).not.toContain('Unreadable');
    expect(verified(`{${row}, minutes: $02}`)).toContain('Pace: 83.3 MB/s\nFull pass: 3 h 20 min at the pace observed');
    const all = `${outcome('new', 'd-1', 'd-2', 'left', 'reads')}$0verify:
  - {method: hash_compare, bytes: 30000000000, errors: 0, minutes: 5}
  - {${row}, where: spread}
`;
    expect(at(all)).toContain(
      `\n\nVerified: 3 % of the patient compared without error; this base asks for 2 %\n${bound}\nFull pass: 2 h 47 min at the pace observed`,
    );
    expect(at(all, 'new.yaml', false)).not.toContain('Verified:');
  });

  it('says what a value reported after the swap followed, beside what the family is recorded with', () => {
    const row = (after: string): string =>
      at(
        `${outcome('new', 'd-1', 'd-2', 'left', 'reads')}identity: [{value: serial, patient_before: "****4F2K", donor_before: "****9Q1C", after: "${after}"}]\n`,
      );
    expect(row('****9$0Q1C')).toContain('Follows: the board; family `tern-2` is recorded with `platters`');
    expect(row('****4$0F2K')).toContain('Follows: the platters;');
    expect(row('****0$0000')).toContain('Follows: neither: no drive reported it before;');
  });

  it('says what a family was seen to do beside what it is recorded with', () => {
    const row = (id: string, rom: string, cells: string): string =>
      `${outcome(id, 'd-1', 'd-2', rom, 'reads')}identity: [{${cells}}]\n`;
    const seen = {
      'outcomes/a.yaml': row(
        'a',
        'left',
        'value: serial, patient_before: "****4F2K", donor_before: "****9Q1C", after: "****4F2K"',
      ),
      'outcomes/b.yaml': row(
        'b',
        'left',
        'value: serial, patient_before: "****4F2K", donor_before: "****9Q1C", after: "****9Q1C"',
      ),
      'outcomes/c.yaml': row(
        'c',
        'chip_moved',
        'value: serial, patient_before: "****4F2K", donor_before: "****9Q1C", after: "****4F2K"',
      ),
      'outcomes/d.yaml': row('d', 'left', 'value: firmware, patient_before: "1", donor_before: "2", after: "2"'),
    };
    const family = (key: string): string =>
      at(bench['families/tern.yaml'].replace(key, `$0${key}`), 'families/tern.yaml', true, seen);
    expect(family('serial: platters')).toContain(
      'In the outcomes of `tern-2`: 1 followed the platters, 1 came with the platters or their ROM and 1 followed the board; 1 against what is recorded.',
    );
    expect(family('identity:')).toContain(
      'Seen in `tern-2` to follow the platters: `serial` 1; the board: `serial` 1 and `firmware` 1.',
    );
  });

  it('is none for values that speak for themselves, for gaps and for keys of no schema', () => {
    expect(at('kind: maker\nname: W$0ren\n')).toBe('no hover');
    expect(at('kind:  $0 maker\n')).toBe('no hover');
    expect(at('kind: maker\nx-sh$0elf: 3\n')).toBe('no hover');
    expect(at('# $0nothing\n')).toBe('no hover');
  });
});

it('says what a capture holds, its serial number masked', () => {
  const source = { name: 'vpd_pg89', sha256: '3b1f0c6a'.repeat(8), values: {} };
  const problems = [{ severity: 'warning', message: 'A bridge may have answered.' }];
  const values = { serial: 'WRN0A4F2K', model: 'NT10-21', lbaCount: 1_953_525_168, logicalSectorBytes: 512 };
  const { file, offset } = openAt({
    ...bench,
    'one.yaml':
      'kind: outcome\nid: a\ndate: 2026-03-14\npatient: d-1\ndonor: d-2\ncaptures: {after: $0a.json}\nreached: reads\nresult: works\n',
    'a.json': JSON.stringify({ capture: 1, taken: '2026-03-14', values, problems, sources: [source] }),
  });
  const text = hoverPlainText(hoverAt(file, offset)!);
  expect(text).toContain('****4F2K');
  expect(text).not.toContain('WRN0');
  expect(text).toContain('1.0002 TB in 1,953,525,168 sectors of 512 bytes, as drives of 1,000 GB have');
  expect(text).toContain('A bridge may have answered.');
});
