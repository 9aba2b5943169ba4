import type { KeyRow } from '../schema/key-rows.ts';
import { formatDate } from '../terms/calendar.ts';
import { type KeyNodes, keyColumn } from './key-columns.ts';
import { type ColumnOf, defineTable, type ExportSource, type Table } from './table.ts';

/** Settings of a base that say how the other tables came about, with how they are read. */
const settings: Readonly<Record<string, (source: ExportSource) => unknown>> = {
  name: ({ snapshot }) => snapshot.config.name,
  works_at: ({ snapshot }) => snapshot.config.worksAt,
  verified_share: ({ snapshot }) => snapshot.config.verifiedShare,
  serials: ({ snapshot }) => snapshot.config.serials,
  kept_powered_minutes: ({ snapshot }) => snapshot.config.keptPoweredMinutes,
};

/** The base itself. */
export function baseTable(nodes: KeyNodes): Table {
  const rows = (nodes['config'] ?? []).filter(({ name }) => name in settings);
  return defineTable<ExportSource>({
    name: 'base',
    describes: 'The base in one row: its settings, defaults filled in, and the day it was exported for.',
    key: ['today'],
    columns: [
      {
        name: 'today',
        type: 'date',
        describes: 'The day that counted as today.',
        read: ({ today }) => formatDate(today),
      },
      ...rows.map(settingColumn),
    ],
    items: (source) => [source],
  });
}

function settingColumn(row: KeyRow): ColumnOf<ExportSource> {
  return keyColumn(row, row.name, settings[row.name] ?? (() => undefined));
}
