import { describe, expect, it } from 'vitest';
import { parseTable } from '../../server/src/host/disk/parse-table.ts';

const utf8 = new TextEncoder();

/** All rows of a text, the headings first; or why it is no table. */
function rowsIn(text: string | Uint8Array, settings: Parameters<typeof parseTable>[1] = {}): unknown {
  const table = parseTable(typeof text === 'string' ? utf8.encode(text) : text, settings);
  return 'reason' in table
    ? `${table.reason} ${table.help ?? ''}`.trim()
    : [table.headings, ...table.rows.map(({ cells }) => cells)];
}

/** Bytes of a text in UTF-16 with its mark. */
function utf16(text: string, isBig: boolean): Uint8Array {
  const marked = `\ufeff${text}`;
  const view = new DataView(new ArrayBuffer(2 * marked.length));
  for (let at = 0; at < marked.length; at++) view.setUint16(2 * at, marked.charCodeAt(at), !isBig);
  return new Uint8Array(view.buffer);
}

/** Source: RFC 4180, section 2, the examples of rules 1 to 7; CRLF written out. */
describe('RFC 4180', () => {
  it.each([
    [
      '1',
      'aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n',
      [
        ['aaa', 'bbb', 'ccc'],
        ['zzz', 'yyy', 'xxx'],
      ],
    ],
    [
      '2',
      'aaa,bbb,ccc\r\nzzz,yyy,xxx',
      [
        ['aaa', 'bbb', 'ccc'],
        ['zzz', 'yyy', 'xxx'],
      ],
    ],
    [
      '3',
      'field_name,field_name,field_name\r\naaa,bbb,ccc\r\nzzz,yyy,xxx\r\n',
      [
        ['field_name', 'field_name', 'field_name'],
        ['aaa', 'bbb', 'ccc'],
        ['zzz', 'yyy', 'xxx'],
      ],
    ],
    [
      '4',
      'aaa,bbb,ccc\r\n a , b,c \r\n',
      [
        ['aaa', 'bbb', 'ccc'],
        [' a ', ' b', 'c '],
      ],
    ],
    [
      '5',
      '"aaa","bbb","ccc"\r\nzzz,yyy,xxx',
      [
        ['aaa', 'bbb', 'ccc'],
        ['zzz', 'yyy', 'xxx'],
      ],
    ],
    [
      '6',
      'x,y,z\r\n"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx',
      [
        ['x', 'y', 'z'],
        ['aaa', 'b\r\nbb', 'ccc'],
        ['zzz', 'yyy', 'xxx'],
      ],
    ],
    [
      '7',
      'x,y,z\r\n"aaa","b""bb","ccc"',
      [
        ['x', 'y', 'z'],
        ['aaa', 'b"bb', 'ccc'],
      ],
    ],
  ])('rule %s', (_, text, rows) => {
    expect(rowsIn(text)).toEqual(rows);
  });
});

describe('what else tables do', () => {
  it('numbers rows as spreadsheets do, and lines as editors do', () => {
    const table = parseTable(utf8.encode('\ufeffsep=;\r\nList of 2024;\r\na;b\r\n"1\r\n2";3\r\n;\r\n4;5\r\n'), {
      heading_row: 2,
    });
    expect(table).toEqual({
      headings: ['a', 'b'],
      rows: [
        { row: 3, line: 4, cells: ['1\r\n2', '3'] },
        { row: 4, line: 6, cells: ['', ''] },
        { row: 5, line: 7, cells: ['4', '5'] },
      ],
    });
  });

  it.each([
    [
      'semicolons',
      'a;b,c;d\n1,5;2;3\n',
      [
        ['a', 'b,c', 'd'],
        ['1,5', '2', '3'],
      ],
    ],
    [
      'tabs',
      'a\tb c\n1\t2;3\n',
      [
        ['a', 'b c'],
        ['1', '2;3'],
      ],
    ],
    ['one column', 'a\n1\n', [['a'], ['1']]],
    [
      'an inch sign in a cell',
      'a,b\n1,3.5" x\n',
      [
        ['a', 'b'],
        ['1', '3.5" x'],
      ],
    ],
    [
      'line ends of three kinds',
      'a,b\r\n1,2\n3,4\r5,6',
      [
        ['a', 'b'],
        ['1', '2'],
        ['3', '4'],
        ['5', '6'],
      ],
    ],
    [
      'a heading over two lines, and blank ones behind',
      '"a\n b",c,,\n1,2,,\n',
      [
        ['a b', 'c'],
        ['1', '2', '', ''],
      ],
    ],
  ])('reads %s', (_, text, rows) => {
    expect(rowsIn(text)).toEqual(rows);
  });

  it('reads UTF-16 by its mark, and Western text if the map says so', () => {
    expect(rowsIn(utf16('a;ä\n', false))).toEqual([['a', 'ä']]);
    expect(rowsIn(utf16('a;ä\n', true))).toEqual([['a', 'ä']]);
    const western = Uint8Array.from([0x61, 0x3b, 0xe4, 0x0a]);
    expect(rowsIn(western, { encoding: 'windows-1252' })).toEqual([['a', 'ä']]);
    expect(rowsIn(western)).toMatchInlineSnapshot(
      `"It is not UTF-8. Save it as UTF-8. Where older Windows programs wrote it, the map can say so: \`encoding: windows-1252\`."`,
    );
  });

  it('says in words what is no table', () => {
    expect([
      rowsIn(''),
      rowsIn(',,\n1,2,3\n'),
      rowsIn('a,b;c\n'),
      rowsIn('a,b\n1,2\n3,"4\n5,6\n'),
      rowsIn(utf16('a;b\n', false).slice(2)),
      rowsIn('PK\u0003\u0004\u0000'),
    ]).toMatchInlineSnapshot(`
      [
        "It has no headings in row 1.",
        "It has no headings in row 1.",
        "Two delimiters divide its headings equally well. Say in the map which is meant: \`delimiter\`.",
        "A quote that opens in row 3, line 3, is never closed. Close it, or double it where it belongs to the text of the cell.",
        "It holds NUL characters, as UTF-16 without its mark does. Save it as text with separators (CSV), in UTF-8.",
        "It is a spreadsheet file and no text. Save it as text with separators (CSV), in UTF-8.",
      ]
    `);
  });
});
