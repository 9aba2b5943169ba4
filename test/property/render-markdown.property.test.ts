import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Block } from '../../server/src/core/reports/document.ts';
import { renderMarkdown } from '../../server/src/core/reports/render-markdown.ts';
import { visible } from '../../server/src/core/text/visible.ts';
import { arbitraryReport } from '../harness/arbitrary-report.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { readMarkdown } from '../harness/read-markdown.ts';
import { named, type ReadPage } from '../harness/read-page.ts';

/** What a comment is made of. */
const elements = new Set([
  ...['html', 'head', 'body', 'p', 'h2', 'h3', 'ul', 'li', 'strong', 'code', 'pre', 'blockquote', 'details', 'summary'],
  ...['table', 'thead', 'tbody', 'tr', 'th', 'td'],
]);

/** A report, or one so long that parts of it are folded or left out. */
const arbitraryLongReport = fc.tuple(arbitraryReport, fc.constantFrom(1, 40, 4_000)).map(([{ blocks }, times]) =>
  blocks.map((block): Block => {
    if (block.kind === 'items') return { ...block, items: Array.from({ length: times }, () => block.items).flat() };
    return block.kind === 'table' ? { ...block, rows: Array.from({ length: times }, () => block.rows).flat() } : block;
  }),
);

function countIn(page: ReadPage, name: string): number {
  return named(page, name).length;
}

/** Without blanks, which Markdown joins, and the marks around code. */
function packed(text: string): string {
  return visible(text.replace(/\s+/g, ' ')).replace(/\s|`/g, '');
}

describe('reports as Markdown', () => {
  it('texts of a report make no mark-up but code', () => {
    assertLaw(
      400,
      fc.property(arbitraryReport, ({ blocks }) => {
        const markdown = renderMarkdown(blocks);
        const page = readMarkdown(markdown);
        for (const { name, attributes } of page.elements) {
          expect(elements).toContain(name);
          const alignment = name === 'td' || name === 'th' ? ['style'] : [];
          expect(alignment).toEqual(expect.arrayContaining(Object.keys(attributes)));
        }
        expect(page.comments).toBe(0);
        const [whole] = named(page, 'body');
        for (const block of blocks) {
          if (block.kind === 'paragraph') expect(packed(whole?.text ?? '')).toContain(packed(block.text));
        }
        expect(countIn(page, 'tbody')).toBe(blocks.filter((one) => one.kind === 'table' && one.rows.length > 0).length);
        for (const name of ['a', 'img', 'script']) expect(countIn(readMarkdown(markdown, 'withoutHtml'), name)).toBe(0);
      }),
    );
  });

  it('a comment is never longer than hosts take, and says so where something is left out', () => {
    const seen = { folded: 0, cut: 0 };
    assertLaw(
      60,
      fc.property(arbitraryLongReport, (blocks) => {
        const markdown = renderMarkdown(blocks);
        expect(markdown.length).toBeLessThanOrEqual(60_000);
        const rows = blocks.reduce((sum, one) => sum + (one.kind === 'table' ? one.rows.length : 0), 0);
        const page = readMarkdown(markdown);
        const shown = named(page, 'tr').filter(({ within }) => within.includes('tbody')).length;
        const isCut = markdown.includes('Left out here, as a comment may only be so long');
        if (shown < rows) expect(isCut).toBe(true);
        if (!isCut) expect(shown).toBe(rows);
        if (isCut) seen.cut++;
        if (countIn(page, 'details') > 0) seen.folded++;
      }),
    );
    expectOften(seen.cut, 2);
    expectOften(seen.folded, 2);
  });
});
