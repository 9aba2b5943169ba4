import type { Column, Table } from '../../server/src/core/exporting/table.ts';
import { generatedNote } from './generated-note.ts';

/** The page that explains every table of `swaplore export`, column by column. */
export function toTablesPage(tables: readonly Table[]): string {
  return `${[`<!-- ${generatedNote} -->`, '# Tables', introduction, ...tables.map(toSection)].join('\n\n')}\n`;
}

const introduction = `What \`swaplore export\` writes. Columns of records are the [keys](reference.md) of their kind: those of a map in it are
joined by \`_\`, a list is one column, and a list of maps is a table of its own. Null means *not known*, or that there is
nothing to say. Some columns have names that are words of SQL, such as \`when\` and \`on\`: there they need quotes.

| Type | jsonl | csv | parquet | sqlite |
| --- | --- | --- | --- | --- |
| text | text | text | \`STRING\` | \`TEXT\` |
| integer | number | number | \`INT64\` | \`INTEGER\` |
| number | number | number | \`DOUBLE\` | \`REAL\` |
| boolean | \`true\`, \`false\` | \`true\`, \`false\` | \`BOOLEAN\` | \`1\`, \`0\` |
| date | text such as \`2026-03-14\` | such as \`2026-03-14\` | \`DATE\` | such as \`2026-03-14\` |
| json | list or map | JSON | \`JSON\` | JSON |
| null | \`null\` | nothing; an empty text is \`""\` | null | \`NULL\` |

In CSV a text that a spreadsheet would take for a formula (one that begins with \`=\`, \`+\`, \`-\`, \`@\`, a wide form of these, a tab or
a line break) has an apostrophe before it; so has one that begins with apostrophes and then one of these. To take one away gives the
text back. Numbers and JSON never need one. Integers beyond 2^53 in either direction count as not known.

In a base that masks serial numbers, those that stand somewhere in full are covered wherever they occur in free text; ids, references and
names of files stay as they are. A SQLite file has the keys as primary keys, and a reference as a foreign key where every one of its
values is recorded.`;

function toSection({ name, describes, key, columns }: Table): string {
  const lines = columns.map(
    (column) => `| \`${column.name}\` | ${column.type}${unitOf(column)} | ${meaningOf(column)} |`,
  );
  return [
    `## ${name}`,
    describes,
    `Key: ${key.map((column) => `\`${column}\``).join(', ')}.`,
    ['| Column | Type | Meaning |', '| --- | --- | --- |', ...lines].join('\n'),
  ].join('\n\n');
}

function unitOf({ unit }: Column): string {
  return unit === undefined ? '' : `, ${unit}`;
}

function meaningOf({ describes, values, refersTo }: Column): string {
  const choice = values === undefined ? [] : [`One of ${values.map((value) => `\`${value}\``).join(', ')}.`];
  const reference = refersTo === undefined ? [] : [`Id in [${refersTo}](#${refersTo}).`];
  return [describes, ...choice, ...reference].join(' ').replaceAll('|', '\\|');
}
