import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { csvHeader, csvLine } from '../../server/src/core/exporting/csv-text.ts';
import { arbitraryRows, rowsTable } from '../harness/arbitrary-rows.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { cellOfText } from '../harness/cell-of-text.ts';
import { readCsv } from '../harness/read-csv.ts';

const { columns } = rowsTable;

describe('CSV', () => {
  it('what is written as CSV reads back as it was', () => {
    assertLaw(
      500,
      fc.property(arbitraryRows, (rows) => {
        const [names, ...records] = readCsv(csvHeader(columns) + rows.map(csvLine).join(''));
        expect(names).toEqual(columns.map(({ name }) => name));
        const read = records.map((record) => columns.map(({ type }, at) => cellOfText(type, record[at] ?? null)));
        expect(read).toEqual(rows);
      }),
    );
  });

  it('no text is taken for a formula', () => {
    assertLaw(
      500,
      fc.property(arbitraryRows, (rows) => {
        for (const record of readCsv(rows.map(csvLine).join(''))) {
          for (const [at, { type }] of columns.entries()) {
            if (type === 'text') expect(record[at] ?? '').not.toMatch(/^[=+\-@\t\r\n＝＋－＠]/);
          }
        }
      }),
    );
  });
});
