import { expect, it } from 'vitest';
import type { Block } from '../../server/src/core/reports/document.ts';
import { renderText } from '../../server/src/core/reports/render-text.ts';

const place = { file: 'a.yaml', contentId: '', target: { start: 0, end: 1 } };

const blocks: readonly Block[] = [
  { kind: 'heading', level: 1, text: 'A bench' },
  { kind: 'caution', text: 'Nothing here promises anything of the next swap.' },
  { kind: 'heading', level: 2, text: 'Findings' },
  {
    kind: 'findings',
    findings: [
      {
        check: 'schema',
        severity: 'error',
        place,
        message: 'Something is wrong.',
        help: 'Mend it.',
        record: 'drive/d-1',
        related: [],
        fixes: [],
      },
      {
        check: 'yaml-syntax',
        severity: 'warning',
        place,
        message: 'A \u001b[31m colour.',
        help: undefined,
        record: undefined,
        related: [],
        fixes: [],
      },
    ],
  },
  { kind: 'checks', checks: [{ check: 'schema', why: 'What breaks it is not known elsewhere.' }] },
  { kind: 'items', items: [{ name: 'rule/a', lines: ['One.', 'Two.'], place }] },
  {
    kind: 'table',
    caption: 'Rules',
    columns: [
      { title: 'rule', align: 'left' },
      { title: 'support', align: 'right' },
    ],
    rows: [
      [{ text: 'a-rule', place }, 12],
      ['b', 3],
    ],
  },
];

it('renders every kind of block as text', () => {
  expect(renderText(blocks, { width: 40, strong: (text) => text })).toMatchInlineSnapshot(`
    "A bench
    =======

    Nothing here promises anything of the
    next swap.

    Findings

    error: drive/d-1 (a.yaml)
      Something is wrong.
      Mend it.

    warning: yaml-syntax (a.yaml)
      A \\u001b[31m colour.

    schema
      What breaks it is not known elsewhere.

    rule/a
      One.
      Two.

    rule    support
    a-rule       12
    b             3
    "
  `);
});
