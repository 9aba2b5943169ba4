import { expect, it } from 'vitest';
import { fitImportMap, readImportMap } from '../../server/src/core/importing/read-import-map.ts';
import { LineIndex } from '../../server/src/core/text/line-index.ts';

const headings = ['Nr', 'Modell', 'Datum', 'Rev', 'Rev'];

/** What is wrong with a map, each with its line and column. */
function faultsIn(text: string): readonly string[] {
  const read = readImportMap(new TextEncoder().encode(text));
  const map = 'faults' in read ? read : fitImportMap(read, headings);
  const lines = new LineIndex(text);
  return ('faults' in map ? map.faults : []).map(({ start, message, help }) => {
    const { line, character } = lines.positionAt(start);
    return `${line + 1}:${character + 1} ${message}${help === undefined ? '' : ` ${help}`}`;
  });
}

function withField(field: string): string {
  return `mapping: 1\nrecords:\n  - kind: drive\n    id: d-{Nr}\n    fields:\n      - { ${field} }\n`;
}

it('fits a table in which all columns are found', () => {
  expect(faultsIn(withField('key: model, column: Modell'))).toEqual([]);
});

it.each([
  '',
  'mapping: 2\nrecords: []\n',
  'mapping: 1\nrecords: {a: b: c}\n',
  'mapping: 1\nrecrods: []\n',
  'mapping: 1\nmapping: 1\nrecords: []\n',
])('refuses what follows no schema: %j', (text) => {
  expect(faultsIn(text)).toMatchSnapshot();
});

it.each([
  'key: modell, column: Modell',
  'key: board, column: Modell',
  'key: board.id.x, column: Modell',
  'key: model.0, column: Modell',
  'key: examined.on, column: Datum',
  'key: /examined/0/onn, column: Datum',
  'key: id, column: Nr',
  'key: model, column: Model',
  'key: model, column: Preis',
  'key: model, column: Rev',
  'key: model',
  'key: model, column: Modell, constant: x',
  'key: model, text: "{Modell"',
  'key: model, record: patient',
  'key: capacity_gb, column: Nr, unit: rpm',
  'key: model, column: Nr, unit: GB',
  'key: made, column: Datum, dates: [DD.MM]',
  'key: made, column: Datum, dates: [TT.MM.JJJJ]',
  'key: model, column: Modell, values: {a: {b: c}}',
  'key: model, column: Modell, values: {a: b, A: c}',
])('refuses { %s }', (field) => {
  expect(faultsIn(withField(field))).toMatchSnapshot();
});

it('refuses two records of one name, one key twice, and a folder outside of the base', () => {
  const record =
    '  - name: a\n    kind: drive\n    id: "{Nr}"\n    folder: ../x\n    fields: [{ key: model, column: Nr }, { key: model, column: Nr }]\n';
  expect(faultsIn(`mapping: 1\nrecords:\n${record}${record}`)).toMatchSnapshot();
});
