import { cellOf } from '../conditions/cell.ts';
import { romTravels } from '../conditions/rom-travels.ts';
import { type Side, sideOf } from '../conditions/swap.ts';
import type { KeyRow } from '../schema/key-rows.ts';
import { evidenceOf } from '../verdicts/evidence.ts';
import { pairName } from '../verdicts/pair-name.ts';
import { type KeyNodes, keyColumn } from './key-columns.ts';
import type { Recorded } from './record-tables.ts';
import type { ColumnOf } from './table.ts';

type Outcome = Recorded<'outcome'>;

/** What follows from an outcome and the two drives it names, so that most questions need no other table. */
export function outcomeColumns(nodes: KeyNodes): readonly ColumnOf<Outcome>[] {
  return [
    {
      name: 'pair',
      type: 'text',
      describes: 'Ids of the two drives, the same whichever way round.',
      read: ({ record: { data } }) => data.patient && data.donor && pairName(data.patient, data.donor),
    },
    {
      name: 'rom_travels',
      type: 'boolean',
      describes: "Whether the patient's own calibration data worked with its platters in this swap; null: not known.",
      read: ({ record, source }) => {
        const { swap } = evidenceOf(record, source.snapshot);
        return swap && romTravels(swap);
      },
    },
    ...sideColumns(nodes, 'patient'),
    ...sideColumns(nodes, 'donor'),
  ];
}

/** The keys in which two drives are compared, as conditions see them on one side. */
function sideColumns(nodes: KeyNodes, side: 'patient' | 'donor'): readonly ColumnOf<Outcome>[] {
  return comparableRows(nodes).map(({ key, row }) => ({
    ...keyColumn(row, `${side}_${key}`, ({ record, source }: Outcome) => {
      const drive = source.snapshot.find('drive', record.data[side]);
      return drive && knownValue(sideOf(drive, source.snapshot), key);
    }),
    describes: `Of the ${side}, as conditions see it. ${row.description}`,
  }));
}

type ComparableKey = Parameters<typeof cellOf>[1];

/** Each comparable key with the row that records it, those of drives first. */
function comparableRows(nodes: KeyNodes): readonly { readonly key: ComparableKey; readonly row: KeyRow }[] {
  const rows = new Map<string, KeyRow>();
  const { drive = [], 'drive.board': board = [], ...others } = nodes;
  for (const row of [...drive, ...board, ...Object.values(others).flat()]) {
    if (row.comparableAs !== undefined && !rows.has(row.comparableAs)) rows.set(row.comparableAs, row);
  }
  return Array.from(rows, ([key, row]) => ({ key: key as ComparableKey, row }));
}

function knownValue(side: Side, key: ComparableKey): string | number | boolean | undefined {
  const cell = cellOf(side, key);
  return cell.state === 'known' ? cell.value : undefined;
}
