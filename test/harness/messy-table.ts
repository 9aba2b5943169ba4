import type { Texts } from './snapshot-of.ts';

/** A table as shops keep them, and what has to become of it. */
export interface MessyTable {
  readonly bytes: Uint8Array;
  /** Its rows below the headings, each as the cells it is written from; several texts of them together are one file again. */
  readonly rows: readonly MessyRow[];
}

/** A row, with what was planted in it. */
export interface MessyRow {
  readonly cells: readonly string[];
  /** Values of each record it has to make, by `kind/id`; empty where it has to be refused, or says nothing. */
  readonly makes: Readonly<Record<string, object>>;
  /** Heading of the column that has to be named; `''` for the row as a whole; undefined where it goes in or is empty. */
  readonly refusedAt: string | undefined;
}

/** A base that the tables fit: two families, one of which carries its calibration data in a chip, and one board. */
export const messyBase: Texts = {
  'swaplore.yaml': 'swaplore: 1\nname: Harbour Street bench\n',
  'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\n',
  'families/tern-2.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\nadaptives: {stored_in: rom_chip}\n',
  'families/gull-1.yaml': 'kind: family\nid: gull-1\nmaker: wren\nname: Gull 1\n',
  'boards/kestrel.yaml':
    'kind: board\nid: kestrel\nmaker: wren\npart_number: KB 70\nrevisions: [{rev: A1}, {rev: A2}]\n',
  'rules/tern.yaml':
    'kind: rule\nid: tern-rom-travels\napplies_to: {families: [tern-2]}\nclaim: needs\nwhen: {rom_travels: true}\nbasis: measured\n',
};

/** The headings of every table. */
const headings = [
  ...['Datum', 'Patient', 'Familie', 'Modell', 'S/N', 'Kapazität (TB)', 'Platine', 'Rev', 'Spender', 'Spender Modell'],
  ...['ROM', 'Dreht', 'Erreicht', 'Ergebnis', 'Bemerkung'],
] as const;

type Heading = (typeof headings)[number];

/** The map of every table. */
export const messyMap = `mapping: 1
table:
  blank: ["-", "?", k.A.]
  dates: [DD.MM.YYYY, YYYY-MM-DD, DD/MM/YY, MM/DD/YY]
  decimal: comma
records:
  - name: patient
    kind: drive
    id: p-{Patient:4}
    fields:
      - { key: family, column: Familie }
      - { key: model, column: Modell }
      - { key: serial, column: S/N }
      - { key: capacity_gb, column: Kapazität (TB), unit: TB }
      - { key: board.id, column: Platine }
      - { key: /board/rev, column: Rev }
  - name: donor
    kind: drive
    id: s-{Spender}
    when: Spender
    fields:
      - { key: family, column: Familie }
      - { key: model, column: Spender Modell }
      - { key: data, constant: none }
  - kind: outcome
    id: "{date}-{patient}-{donor}"
    when: Spender
    folder: outcomes/table
    fields:
      - { key: date, column: Datum }
      - { key: patient, record: patient }
      - { key: donor, record: donor }
      - key: rom
        column: ROM
        split: +
        values: { nein: left, umgelötet: chip_moved, geschrieben: image_written }
      - { key: observed.spins, column: Dreht, values: { ja: true, nein: false } }
      - { key: reached, column: Erreicht, values: { liest: reads, erkannt: detected, dreht: spins } }
      - { key: result, column: Ergebnis, values: { ok: works, unklar: inconclusive } }
      - { key: notes, column: Bemerkung }
`;

/** A source of numbers from 0 to below 1 that always come alike. Source: mulberry32, public domain. */
function randomFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** What can be planted in a row: the cells it changes, and the column that has to be named. */
const plants: Readonly<Record<string, { readonly cells: Partial<Record<Heading, string>>; readonly at: string }>> = {
  ambiguousDate: { cells: { Datum: '03/04/24' }, at: 'Datum' },
  impossibleDate: { cells: { Datum: '31.02.2024' }, at: 'Datum' },
  foreignDate: { cells: { Datum: '2024.03.14' }, at: 'Datum' },
  noDate: { cells: { Datum: 'k.A.' }, at: 'Datum' },
  unknownWord: { cells: { ROM: 'getauscht' }, at: 'ROM' },
  unknownTruth: { cells: { Dreht: 'vielleicht' }, at: 'Dreht' },
  unknownFamily: { cells: { Familie: 'Tirn 9' }, at: 'Familie' },
  unknownRevision: { cells: { Platine: 'KB 70', Rev: 'Z9' }, at: 'Rev' },
  noNumber: { cells: { 'Kapazität (TB)': 'viel' }, at: 'Kapazität (TB)' },
  neverSpun: { cells: { Dreht: 'nein', Erreicht: 'erkannt', Ergebnis: 'unklar' }, at: 'Erreicht' },
  brokenRule: { cells: { Familie: 'tern-2', ROM: 'nein', Erreicht: 'liest', Ergebnis: 'ok' }, at: 'Erreicht' },
};

/** A table of so many rows. The same seed gives the same table. */
export function messyTable(seed: number, rowCount: number): MessyTable {
  const random = randomFrom(seed);
  const pick = <Item>(items: readonly Item[]): Item => items[Math.floor(random() * items.length)] as Item;
  const rows: MessyRow[] = [];
  for (let at = 0; rows.length < rowCount; at++) {
    const chance = random();
    const earlier = rows.filter(({ makes }) => Object.keys(makes).length > 0);
    if (chance < 0.02) rows.push({ cells: headings.map(() => ''), makes: {}, refusedAt: undefined });
    else if (chance < 0.05 && earlier.length > 0) rows.push(pick(earlier));
    else if (chance < 0.07) rows.push({ cells: ['14.03.2024', `${at}`, 'gull-1'], makes: {}, refusedAt: '' });
    else if (chance < 0.09) {
      rows.push({ cells: [...plainRow(at, pick).cells, 'zu viel'], makes: {}, refusedAt: '' });
    } else if (chance < 0.2) {
      const [name, { cells, at: refusedAt }] = pick(Object.entries(plants));
      const plain = plainRow(at, pick).cells;
      // A wrong family may stand beside a donor that others tell of rightly; a swap that breaks a rule has one of its own.
      const donor = name === 'unknownFamily' ? {} : { Spender: `y${at}`, 'Spender Modell': 'YM-1' };
      rows.push({ cells: withCells(plain, { ...donor, ...cells }), makes: {}, refusedAt });
    } else if (chance < 0.22 && rows.length + 1 < rowCount) {
      // Two rows that say different things of one donor.
      for (const model of ['GL-1', 'GL-2']) {
        const own = withCells(plainRow(at, pick).cells, {
          Patient: `7${String(at).padStart(4, '0')}${model.at(-1)}`,
          Familie: 'gull-1',
          Spender: `x${at}`,
          'Spender Modell': model,
        });
        rows.push({ cells: own, makes: {}, refusedAt: 'Spender Modell' });
      }
    } else rows.push(plainRow(at, pick));
  }
  return { rows, bytes: messyBytes(rows) };
}

function withCells(cells: readonly string[], changes: Partial<Record<Heading, string>>): readonly string[] {
  return headings.map((heading, position) => changes[heading] ?? cells[position] ?? '');
}

/** The table of these rows as a spreadsheet with German settings writes it: with a mark, semicolons, quotes where needed, CRLF. */
export function messyBytes(rows: readonly Pick<MessyRow, 'cells'>[]): Uint8Array {
  const quoted = (cell: string): string => (/[;"\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);
  const lines = [headings, ...rows.map(({ cells }) => cells)].map((cells) => cells.map(quoted).join(';'));
  return new TextEncoder().encode(`\ufeff${lines.join('\r\n')}\r\n`);
}

/** Takes one of several by chance. */
type Picker = <Item>(items: readonly Item[]) => Item;

/** A row that goes in. */
function plainRow(at: number, pick: Picker): MessyRow {
  const [day, month] = [pick([13, 19, 28]), pick([1, 4, 11])];
  const two = (number: number): string => String(number).padStart(2, '0');
  const date = `2024-${two(month)}-${two(day)}`;
  const written = pick([
    date,
    `${day}.${two(month)}.2024`,
    `${day}.${month}.2024`,
    `${date} 00:00:00`,
    `${day}/${two(month)}/24`,
    `${two(month)}/${day}/24`,
  ]);
  const [family, id] = pick([
    ['Tern 2', 'tern-2'],
    ['tern-2', 'tern-2'],
    ['gull-1', 'gull-1'],
    ['GULL  1', 'gull-1'],
  ] as const);
  const model = pick(['TN-1000', 'TN-2000', '0040', 'yes', 'a: b']);
  const serial = `WRN${String(at).padStart(5, '0')}F2K`;
  const [capacity, capacityGb] = pick([
    ['1,0', 1000],
    ['0,5', 500],
    ['2.000 GB', 2000],
    ['-', undefined],
  ] as const);
  const [board, rev] = pick([
    ['KB 70', 'A1'],
    ['kestrel', 'A2'],
    ['', ''],
  ] as const);
  const [rom, roms] = pick([
    ['umgelötet', 'chip_moved'],
    ['Umgelötet + geschrieben', ['chip_moved', 'image_written']],
  ] as const);
  const [spins, doesSpin] = pick([
    ['ja', true],
    ['?', undefined],
  ] as const);
  const [reached, stage, result, verdict] = pick([
    ['liest', 'reads', 'ok', 'works'],
    ['erkannt', 'detected', 'Unklar', 'inconclusive'],
    ['dreht', 'spins', 'unklar', 'inconclusive'],
  ] as const);
  const [notes, kept] = pick([
    ['', undefined],
    ['Kunde: "eilig"\r\nbitte anrufen; später', 'Kunde: "eilig"\nbitte anrufen; später'],
    [`${serial} klebt am Deckel`, `****${serial.slice(-4)} klebt am Deckel`],
    ['3.5" Platte', '3.5" Platte'],
  ] as const);
  const donor = at % 7 === 0 ? '' : `${id}-${at % 23}`;
  const patient = `drive/p-${String(at).padStart(4, '0')}`;
  const donorId = `s-${donor}`;
  return {
    cells: [
      written,
      `${at}`,
      family,
      model,
      serial,
      capacity,
      board,
      rev,
      donor,
      donor === '' ? '' : `M-${donor}`,
      rom,
      spins,
      reached,
      result,
      notes,
    ],
    makes: {
      [patient]: {
        family: id,
        model,
        serial: `****${serial.slice(-4)}`,
        ...(capacityGb === undefined ? {} : { capacity_gb: capacityGb }),
        ...(board === '' ? {} : { board: { id: 'kestrel', rev } }),
      },
      ...(donor === ''
        ? {}
        : {
            [`drive/${donorId}`]: { family: id, model: `M-${donor}`, data: 'none' },
            [`outcome/${date}-${patient.slice(6)}-${donorId}`]: {
              ...{ date, patient: patient.slice(6), donor: donorId, rom: roms, reached: stage, result: verdict },
              ...(doesSpin === undefined ? {} : { observed: { spins: doesSpin } }),
              ...(kept === undefined ? {} : { notes: kept }),
            },
          }),
    },
    refusedAt: undefined,
  };
}
