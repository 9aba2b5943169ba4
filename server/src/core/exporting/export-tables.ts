/**
 * Everything a base holds and everything that follows from it, as tables. Documentation and every format are made from this list.
 * Laws (test/property/export-tables.property.test.ts):
 * - every record that stands is one row of the table of its kind
 * - every value of a record stands in the tables of its kind once
 * - every outcome that counts has one verdict at every stage, and stands to a rule as the results of the rule have it
 * - the columns of a key are never null, and no two rows hold the same
 */
import { type Kind, kinds } from '../terms/kinds.ts';
import { baseTable } from './base-table.ts';
import { findings } from './findings-table.ts';
import type { KeyNodes } from './key-columns.ts';
import { odds } from './odds-table.ts';
import { outcomeColumns } from './outcome-columns.ts';
import { recordTables } from './record-tables.ts';
import { ruleColumns } from './rule-columns.ts';
import { type Column, columnTypes, defineTable, type Table } from './table.ts';
import { ruleResultRows, verdictMissing, verdicts } from './verdict-tables.ts';

/** Every table, in the order of the documentation; each names only those before it, itself, or those of records. */
export function exportTables(nodes: KeyNodes): readonly Table[] {
  const tables = [
    baseTable(nodes),
    ...kinds.flatMap((kind) => tablesOfKind(nodes, kind)),
    verdicts,
    verdictMissing,
    ruleResultRows,
    odds,
    findings,
  ];
  return [...tables, columnsTable(tables)];
}

function tablesOfKind(nodes: KeyNodes, kind: Kind): readonly Table[] {
  switch (kind) {
    case 'outcome':
      return recordTables(nodes, kind, outcomeColumns(nodes));
    case 'rule':
      return recordTables(nodes, kind, ruleColumns);
    default:
      return recordTables(nodes, kind);
  }
}

interface TableColumn {
  readonly table: Table;
  readonly column: Column;
}

/** What the columns of the other tables mean, for whoever has the files alone. */
function columnsTable(tables: readonly Table[]): Table {
  return defineTable<TableColumn>({
    name: 'columns',
    describes: 'The columns of all other tables.',
    key: ['table', 'column'],
    columns: [
      { name: 'table', type: 'text', describes: 'Name of the table.', read: ({ table }) => table.name },
      { name: 'column', type: 'text', describes: 'Name of the column.', read: ({ column }) => column.name },
      {
        name: 'type',
        type: 'text',
        describes: 'What it holds.',
        values: columnTypes,
        read: ({ column }) => column.type,
      },
      { name: 'unit', type: 'text', describes: 'Unit of its numbers.', read: ({ column }) => column.unit },
      {
        name: 'refers_to',
        type: 'text',
        describes: 'The table whose `id` the values are.',
        read: ({ column }) => column.refersTo,
      },
      { name: 'describes', type: 'text', describes: 'What it means.', read: ({ column }) => column.describes },
    ],
    *items() {
      for (const table of tables) for (const column of table.columns) yield { table, column };
    },
  });
}
