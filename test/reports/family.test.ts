import { describe, expect, it } from 'vitest';
import { familyDocument } from '../../server/src/core/reports/family.ts';
import { renderText } from '../../server/src/core/reports/render-text.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';

const files = {
  'maker.yaml': 'kind: maker\nid: wren\nname: Wren\n',
  'family.yaml':
    'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\nheight_mm: 26.1\ncapacities_gb: [500, 1000]\ngas: air\nadaptives: {stored_in: rom_chip}\nidentity: {serial: platters}\n',
  'board.yaml':
    'kind: board\nid: w100\nmaker: wren\npart_number: W100\nfamilies: [tern-2]\nrevisions: [{rev: A, controller: [K1, K2]}, {rev: B, drop_in_for: [A]}, {rev: C, drop_in_for: [B, X]}]\n',
  'drives.yaml': ['A', 'B', 'C']
    .map((rev, n) => `kind: drive\nid: d-${n + 1}\nfamily: tern-2\nboard: {id: w100, rev: ${rev}}\n`)
    .join('---\n'),
  'rules.yaml':
    'kind: rule\nid: rom-travels\napplies_to: {families: [tern-2]}\nclaim: needs\nwhen: {rom_travels: true}\n---\nkind: rule\nid: for-all\nclaim: needs\nwhen: {same: [rev]}\nat_least: 0.5\n',
  'outcomes.yaml': [
    outcome('b-for-a', 'd-1', 'd-2', 'reads'),
    outcome('c-for-b', 'd-2', 'd-3', 'spins'),
    outcome('c-for-a', 'd-1', 'd-3', 'reads'),
  ].join('---\n'),
};

function outcome(id: string, patient: string, donor: string, reached: string): string {
  return `kind: outcome\nid: ${id}\ndate: 2026-03-14\npatient: ${patient}\ndonor: ${donor}\nrom: chip_moved\nrom_proved: read_back\ncontrols: {swapped_back: both_work}\nreached: ${reached}\nidentity: [{value: serial, patient_before: '****1111', donor_before: '****2222', after: '****2222'}]\n`;
}

function textOf(texts: Readonly<Record<string, string>>): string {
  const snapshot = snapshotOf(texts);
  return renderText(familyDocument(snapshot.find('family', 'tern-2')!, snapshot), {
    width: 80,
    strong: (text) => `# ${text}`,
  });
}

/** What stands below a heading. */
function partOf(text: string, heading: string): string {
  return text.split(`\n# ${heading}\n`)[1]?.split('\n# ')[0]?.trim() ?? '';
}

describe('the page of a family', () => {
  const text = textOf(files);

  it('names facts as the schema does, with units and meanings', () => {
    expect(partOf(text, 'Facts')).toMatchInlineSnapshot(`
      "fact                 recorded
      Maker                wren
      Family name          Tern 2
      Height               26.1 mm
      Filling gas          \`air\`: breathes through a filtered hole
      Capacities           500, 1000 GB
      Adaptives stored in  \`rom_chip\`: in a small serial flash on the board, which can
                           be moved or copied"
    `);
  });

  it('shows which revisions are said to do for which, and how that came out', () => {
    expect(partOf(text, 'Boards')).toMatchInlineSnapshot(`
      "board  revision  main controller  motor driver  contact pads  drives here
      w100   A         K1, K2                                                 1
      w100   B                                                                1
      w100   C                                                                1

      Revisions, each with an arrow to those it is said to do for
      w100
        B ───> A  borne out: 1 worked
        C ─×─> B  contradicted: 1 failed
        C ···> X  not tried
        X: not recorded

      An arrow leads from a revision to one whose drives are said to work with it once
      the ROM has travelled. Whole: swaps bear it out. Broken: a swap failed that no
      law explains. In dots: no swap has decided it. From the claims of \`w100\` it also
      follows: \`C\` for \`A\`, borne out: 1 worked."
    `);
  });

  it('holds what was seen of identity against what is recorded', () => {
    expect(partOf(text, 'Identity')).toMatchInlineSnapshot(`
      "value               recorded  platters  platters or ROM  board  same on both  neither
      Serial number from  platters         0                0      3             0        0"
    `);
  });

  it('has its own rules, and those about all that its outcomes put to the test', () => {
    expect(partOf(text, 'Rules')).toMatchInlineSnapshot(`
      "rule         claim                         support  against  undecided  excepted
      for-all      \`reads\` needs \`same: [rev]\`,        1        2          0         0
                   at a rate of 0.5 at least
      rom-travels  \`reads\` needs \`rom_travels:         2        0          0         0
                   true\`

      Support and against count outcomes that decide the claim. Undecided: a control,
      a value or the scope is not known. Excepted: set aside by the rule itself.
      Outcomes the claim says nothing about are not counted."
    `);
  });

  it('lists its outcomes', () => {
    expect(partOf(text, 'Outcomes')).toMatchInlineSnapshot(`
      "outcome  date        patient  donor  ROM            reached  at reads  counted
      b-for-a  2026-03-14  d-1      d-2    ROM travelled  reads    works     yes
      c-for-a  2026-03-14  d-1      d-3    ROM travelled  reads    works     yes
      c-for-b  2026-03-14  d-2      d-3    ROM travelled  spins    fails     yes"
    `);
  });

  it('says so where there is nothing yet', () => {
    const bare = textOf({ 'family.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\n' });
    expect(partOf(bare, 'Odds')).toBe('No outcome is recorded yet.');
    for (const heading of ['Boards', 'Identity', 'Rules', 'Outcomes']) expect(partOf(bare, heading)).toBe('');
  });
});
