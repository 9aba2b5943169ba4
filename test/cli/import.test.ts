import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { readFileFacts } from '../../server/src/core/model/file-facts.ts';
import { nameOf } from '../../server/src/core/model/record.ts';
import { messyBase, messyMap, messyTable } from '../harness/messy-table.ts';
import { folderOf, type Run, runInside, transcript } from '../harness/run-cli.ts';

const today = ['--today', '2026-11-26'];

/** What `--json` prints. */
interface Data {
  readonly rows: { readonly in: number; readonly refused: number; readonly empty: number };
  readonly written: readonly { readonly record: string; readonly file: string; readonly text?: string }[];
  readonly here: number;
  readonly refusals: readonly { readonly row: number; readonly column?: string; readonly reason: string }[];
  readonly differences: readonly object[];
}

function dataOf({ stdout }: Run): Data {
  return JSON.parse(stdout) as Data;
}

/** The files of a run over a messy table. */
function filesOf(bytes: Uint8Array): Readonly<Record<string, string | Uint8Array>> {
  const base = Object.entries(messyBase).map(([path, text]) => [`base/${path}`, text]);
  return { ...Object.fromEntries(base), 'shop.csv': bytes, 'map.yaml': messyMap };
}

const args = ['import', 'shop.csv', '--map', 'map.yaml', '--folder', 'base', ...today];

it('gives exactly the records and refusals planted in 2,000 messy rows, without an error, and nothing the second time', async () => {
  const { rows, bytes } = messyTable(20261126, 2000);
  const folder = folderOf(filesOf(bytes));
  const first = await runInside(folder, [...args, '--json']);
  expect([first.code, first.stderr]).toEqual([1, '']);
  const data = dataOf(first);

  const made = data.written.map(({ file }) => recordIn(join(folder, 'base', file)));
  expect(Object.fromEntries(made)).toEqual(Object.fromEntries(rows.flatMap(({ makes }) => Object.entries(makes))));
  expect(made.length).toBeGreaterThan(2000);
  const planted = rows.flatMap(({ refusedAt: column }, position) =>
    column === undefined ? [] : [{ row: position + 2, column }],
  );
  expect(data.refusals.map(({ row, column = '' }) => ({ row, column }))).toEqual(planted);
  expect(planted.length).toBeGreaterThan(300);
  const empty = rows.filter(({ cells }) => cells.every((cell) => cell === '')).length;
  expect(data.rows).toEqual({ in: 2000 - planted.length - empty, refused: planted.length, empty });
  expect(JSON.stringify([data, made])).not.toMatch(/WRN\d{5}/);

  const lint = await runInside(folder, ['lint', 'base', ...today]);
  expect(lint.stdout.trimEnd().split('\n').at(-1)).toMatch(/: 0 errors, /);
  const second = await runInside(folder, [...args, '--json']);
  expect(dataOf(second)).toEqual({ ...data, written: [], here: data.written.length });
});

it('shows on a dry run what it then writes, and writes nothing', async () => {
  const folder = folderOf(filesOf(messyTable(7, 60).bytes));
  const before = readdirSync(join(folder, 'base'), { recursive: true });
  const dry = dataOf(await runInside(folder, [...args, '--json', '--dry-run']));
  expect(readdirSync(join(folder, 'base'), { recursive: true })).toEqual(before);
  const real = dataOf(await runInside(folder, [...args, '--json']));
  expect(dry.written.map(({ text, ...rest }) => rest)).toEqual(real.written);
  expect(real.written.length).toBeGreaterThan(60);
  for (const { file, text } of dry.written) expect(readFileSync(join(folder, 'base', file), 'utf8')).toBe(text);
});

const bench = {
  'base/swaplore.yaml': 'swaplore: 1\nname: Bench\n',
  'base/makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\n',
  'base/families/tern-2.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\n',
  'base/drives/d-1.yaml': 'kind: drive\nid: d-1\nfamily: tern-2\nmodel: TN-1\n',
};

/** Runs an import of one table by one map into a small base, and gives the transcript. */
async function imported(
  {
    table,
    fields,
    id = 'd-{Nr}',
    files = {},
  }: {
    readonly table: string;
    readonly fields: string;
    readonly id?: string;
    readonly files?: Readonly<Record<string, string>>;
  },
  ...more: readonly string[]
): Promise<string> {
  const map = `mapping: 1\nrecords:\n  - kind: drive\n    id: "${id}"\n    fields: [{ key: family, constant: tern-2 }, ${fields}]\n`;
  const folder = folderOf({ ...bench, 'shop.csv': table, 'map.yaml': map, ...files });
  return transcript(
    await runInside(folder, ['import', 'shop.csv', '--map', 'map.yaml', '--folder', 'base', ...today, ...more]),
  );
}

it('leaves a record that is here as it is, and says what the table has otherwise', async () => {
  const table = 'Nr,Modell,FW\n1,tn-1,\n1,TN-1,F2\n2,TN-2,F2\n';
  const fields = '{ key: model, column: Modell }, { key: firmware, column: FW }';
  expect(await imported({ table, fields })).toMatchInlineSnapshot(`
    "shop.csv, row 3: drive/d-1 is here already and stays
      It has no \`firmware\` (base/drives/d-1.yaml); the table says \`F2\`.

    Bench: 3 rows are in, 0 refused (shop.csv)
    1 drive written; 1 record already here; 1 of them not as the table says.
    exit 1"
  `);
});

it('keeps rows out whose file stands in the way, and never writes over it', async () => {
  const files = { 'base/drives/d-2.yaml': 'kind: maker\nid: lark\nname: Lark\n', 'base/drives/d-3.yaml/x.txt': '' };
  const table = 'Nr,Modell\n2,TN-1\n3,TN-1\n';
  expect(await imported({ table, fields: '{ key: model, column: Modell }', files })).toMatchInlineSnapshot(`
    "shop.csv, row 2
      drives/d-2.yaml is there already, with other records.

    shop.csv, row 3
      drives/d-3.yaml is there already.

    Bench: 0 rows are in, 2 refused (shop.csv)
    Nothing written.
    exit 1"
  `);
});

it('shows no serial number, neither in an id nor in a reason', async () => {
  const table =
    'Nr,S/N,Köpfe,Notiz\nWRN0A4F2K,WRN0A4F2K,4,\n5,WRN0A4F2K,"4,5",\n6,WRN0A4F2K,4,"zu WRN0A4F2K, A. B."\n7,WRN0A4F2K,4,WRN0A4F2K\n7,WRN0A4F2K,4,klebt\n';
  const fields = '{ key: serial, column: S/N }, { key: heads, column: Köpfe }, { key: notes, column: Notiz }';
  expect(await imported({ table, fields }, '--dry-run')).toMatchInlineSnapshot(`
    "shop.csv, row 2
      The id of the drive would show a serial number.

    shop.csv, row 3, \`Köpfe\` is \`4,5\`
      \`heads\` cannot be \`4.5\`; a whole number is needed.
        Mend the cell, or say under \`values\` of its field what it stands for.

    shop.csv, row 5, \`Notiz\` is \`****4F2K\`
      \`notes\` of drive \`d-7\` is \`****4F2K\` here, but \`klebt\` in row 6.
        Make the rows agree, or give what they tell of ids of their own.

    shop.csv, row 6, \`Notiz\` is \`klebt\`
      \`notes\` of drive \`d-7\` is \`klebt\` here, but \`****4F2K\` in row 5.
        Make the rows agree, or give what they tell of ids of their own.

    base/drives/d-6.yaml would be written (row 4):
      kind: drive
      id: d-6
      family: tern-2
      serial: "****4F2K"
      heads: 4
      notes: zu ****4F2K, A. B.

    Bench: 1 row would go in, 4 refused (shop.csv)
    1 drive would be written.
    exit 1"
  `);
});

it('leaves constants out of entries in which a row says nothing, and takes defaults for blank cells', async () => {
  const table = 'Nr,Tag,5V,Stand,Daten\n4,2024-03-14,ok,,\n5,,,3 d,test\n';
  const fields = [
    '{ key: examined.0.on, column: Tag }, { key: examined.0.supply_5v, column: 5V }, { key: examined.0.contacts, constant: clean }',
    '{ key: data, column: Daten, default: none }, { key: power_on_hours, column: Stand }, { key: x-source, constant: old list }',
  ].join(', ');
  const data = JSON.parse((await imported({ table, fields }, '--dry-run', '--json')).replace(/exit \d$/, '')) as Data;
  expect(data.written.map(({ text }) => text).join('---\n')).toMatchInlineSnapshot(`
    "kind: drive
    id: d-4
    family: tern-2
    examined:
      - { on: 2024-03-14, supply_5v: ok, contacts: clean }
    data: none
    x-source: old list
    ---
    kind: drive
    id: d-5
    family: tern-2
    power_on_hours: 72
    data: test
    x-source: old list
    "
  `);
});

it('imports nothing into a base whose ids nobody can know, and warns of a map that lies in a base', async () => {
  const table = 'Nr\n7\n';
  const fields = '{ key: model, constant: x }';
  expect(await imported({ table, fields, files: { 'base/drives/odd.yaml': '\u0000' } })).toMatchInlineSnapshot(`
    "! swaplore: A file of the base base cannot be read, so nobody can tell which records are here already.
    ! swaplore lint names it. Nothing was written.
    exit 2"
  `);
  const files = {
    'base/map.yaml':
      'mapping: 1\nrecords: [{ kind: drive, id: "d-{Nr}", fields: [{ key: family, constant: tern-2 }] }]\n',
  };
  const folder = folderOf({ ...bench, ...files, 'shop.csv': table });
  const run = await runInside(folder, ['import', 'shop.csv', '--map', 'base/map.yaml', '--folder', 'base', ...today]);
  expect(transcript(run)).toMatchInlineSnapshot(`
    "Bench: 1 row is in, 0 refused (shop.csv)
    1 drive written.
    ! swaplore: base/map.yaml lies in the base, where swaplore lint takes it for a record. Keep it outside, or name it under \`ignore\`.
    exit 0"
  `);
});

it('cannot run without a map, a table or columns, and says where a map is wrong', async () => {
  const folder = folderOf({
    ...bench,
    'shop.csv': 'Nr\n7\n',
    'odd.csv': '',
    'map.yaml': 'mapping: 1\nrecords: [{ kind: drive, id: "d-{No}", fields: [] }]\n',
  });
  const runs = [
    ['shop.csv'],
    ['none.csv', '--map', 'map.yaml'],
    ['odd.csv', '--map', 'map.yaml'],
    ['shop.csv', '--map', 'map.yaml'],
    ['shop.csv', '--map', 'map.yaml', '--suggest-map'],
  ];
  const shown = await Promise.all(runs.map((typed) => runInside(folder, ['import', ...typed, '--folder', 'base'])));
  expect(shown.map(transcript).join('\n\n')).toMatchInlineSnapshot(`
    "! swaplore: A table needs a map.
    ! Name one with --map, or have one proposed by --suggest-map.
    exit 2

    ! swaplore: none.csv cannot be read: nothing is there.
    exit 2

    ! swaplore: odd.csv cannot be read as a table. It has no headings in row 1.
    exit 2

    ! map.yaml:2:30  error
    !   The table has no column \`No\`.
    !     The headings are \`Nr\`.

    ! The map has a fault, so nothing was imported.
    exit 2

    ! swaplore: --suggest-map makes a map, so it takes none.
    exit 2"
  `);
});

it('proposes a map that says what it was not sure of', async () => {
  const table =
    'Export,,,,,,\nDatum,Defekt Nr.,Spender,Spender FW,ROM umgelötet?,Ergebnis,Preis\n03/04/24,17,18,F1,ja,?,9\n13/04/24,19,18,F1,vielleicht,ok,9\n';
  const folder = folderOf({ ...bench, 'shop.csv': table });
  expect(
    transcript(await runInside(folder, ['import', 'shop.csv', '--suggest-map', '--folder', 'base'])),
  ).toMatchInlineSnapshot(`
    "# Proposed from the headings of the table and what stands below them. Read it
    # through: what was not sure is marked with "?". Then try it with --dry-run.
    # swaplore key mapping.records.fields lists what a field may say.
    mapping: 1
    table:
      heading_row: 2
      blank: ["?"]
    records:
      - name: patient
        kind: drive
        # ? No column numbers the patient; what stands here has to tell each from all others.
        id: "d-{Defekt Nr.}"
        fields:
          # ? No column says \`family\`, which a drive needs. For all rows alike:
          # - { key: family, constant: tern-2 }
          []
      - name: donor
        kind: drive
        id: "d-{Spender}"
        when: Spender
        fields:
          - { key: firmware, column: Spender FW }
          # ? No column says \`family\`, which a drive needs. For all rows alike:
          # - { key: family, constant: tern-2 }
      - name: outcome
        kind: outcome
        id: "{date}-{patient}-{donor}"
        when: Spender
        fields:
          - { key: patient, record: patient }
          - { key: donor, record: donor }
          - { key: date, column: Datum, dates: [DD/MM/YY] }
          - key: rom
            column: ROM umgelötet?
            values:
              # "ja": ? one of left, chip_moved, image_written, controller_moved, not_fitted
              # "vielleicht": ? one of left, chip_moved, image_written, controller_moved, not_fitted
          - key: result
            column: Ergebnis
            values:
              "ok": works
          # ? No column says \`reached\`, which an outcome needs.
    # Columns that nothing is made of:
    #   "Defekt Nr."
    #   "Preis"
    exit 0"
  `);
});

it.each([
  ['d-17', 'D-18', '{Drive}'],
  ['17', 'd-18', 'd-{Drive}'],
  ['17', '18', 'd-{Drive}'],
])('proposes ids that begin with `d-` once: %s and %s', async (first, second, id) => {
  const folder = folderOf({ ...bench, 'shop.csv': `Drive,Model\n${first},M\n${second},M\n` });
  const { stdout } = await runInside(folder, ['import', 'shop.csv', '--suggest-map', '--folder', 'base']);
  expect(stdout).toContain(`    id: "${id}"\n`);
});

it('keeps a row out by which a record that is here would be wrong', async () => {
  const drives = 'kind: drive\nid: d-2\nfamily: tern-2\n---\nkind: drive\nid: d-3\nfamily: tern-2\n';
  const old =
    'kind: outcome\nid: old\ndate: 2024-03-20\npatient: d-1\ndonor: d-2\nrom: not_fitted\nrom_proved: worked_after\nhost: { port: onboard }\ncontrols: { donor_on_own_board: works, hda_proved_by: proof }\nreached: spins\nresult: inconclusive\n';
  const map = `mapping: 1\nrecords:\n  - kind: outcome\n    id: "{Nr}"\n    fields: [{ key: date, column: Tag }, { key: patient, constant: d-1 }, { key: donor, constant: d-3 }, { key: reached, column: Stufe }, { key: result, constant: works }]\n`;
  const table = 'Nr,Tag,Stufe\nproof,2024-03-14,reads\nother,2024-03-15,reads\n';
  const folder = folderOf({
    ...bench,
    'base/drives/more.yaml': drives,
    'base/outcomes/old.yaml': old,
    'map.yaml': map,
    'shop.csv': table,
  });
  expect(
    transcript(await runInside(folder, ['import', 'shop.csv', '--map', 'map.yaml', '--folder', 'base', ...today])),
  ).toMatchInlineSnapshot(`
    "shop.csv, row 2
      Outcome \`old\` says \`inconclusive\`, but it reached \`spins\`, below the \`reads\`
      this base counts as working, with every control in place.
        Record \`fails\`, or correct what it follows from.

    Bench: 1 row is in, 1 refused (shop.csv)
    1 outcome written.
    exit 1"
  `);
});

/** The one record of a file that was written, by its name. */
function recordIn(path: string): [string, object] {
  const { records, faults } = readFileFacts(readFileSync(path));
  const [only, another] = records;
  if (!only || another || faults.length > 0) throw new Error(`${path} does not hold one record without a fault`);
  return [
    nameOf(only.record),
    { ...only.record.data, kind: undefined, ...(only.notes === undefined ? {} : { notes: only.notes }) },
  ];
}
