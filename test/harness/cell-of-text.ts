import type { Cell, ColumnType } from '../../server/src/core/exporting/table.ts';

/** What a field of an exported CSV file stands for. */
export function cellOfText(type: ColumnType, field: string | null): Cell {
  if (field === null) return null;
  switch (type) {
    case 'text':
      return /^'+[=+\-@\t\r\n＝＋－＠]/.test(field) ? field.slice(1) : field;
    case 'date':
      return field;
    case 'integer':
    case 'number':
      return Number(field);
    case 'boolean':
      return field === 'true';
    case 'json':
      return JSON.parse(field) as Cell;
  }
}
