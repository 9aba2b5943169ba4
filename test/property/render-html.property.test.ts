import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Block, cellText, placesIn } from '../../server/src/core/reports/document.ts';
import { panelPage } from '../../server/src/core/reports/panel-page.ts';
import { PlaceBook } from '../../server/src/core/reports/place-book.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { visible } from '../../server/src/core/text/visible.ts';
import { arbitraryFaultyFiles } from '../harness/arbitrary-faulty-files.ts';
import { arbitraryReport, type HostileFiles } from '../harness/arbitrary-report.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { named, type ReadPage, readPage } from '../harness/read-page.ts';
import { filePagesOf, panelNonce, panelPagesOf } from '../harness/report-pages.ts';

/** What a page is made of. */
const elements = new Set([
  ...[
    'html',
    'head',
    'meta',
    'title',
    'style',
    'body',
    'a',
    'header',
    'p',
    'nav',
    'ul',
    'li',
    'main',
    'h1',
    'h2',
    'h3',
  ],
  ...['details', 'summary', 'div', 'span', 'svg', 'path', 'code', 'pre', 'mark', 'table', 'caption', 'thead', 'tbody'],
  ...['tr', 'th', 'td', 'button', 'footer', 'script', 'figure', 'figcaption', 'desc', 'rect', 'line', 'text'],
]);
const attributes = new Set([
  ...['lang', 'charset', 'http-equiv', 'content', 'name', 'nonce', 'class', 'href', 'id', 'tabindex', 'role', 'open'],
  ...['aria-label', 'aria-current', 'aria-hidden', 'data-report', 'data-place', 'type', 'scope', 'viewBox', 'd'],
  ...['aria-labelledby', 'aria-describedby', 'text-anchor', 'x', 'y', 'width', 'height', 'x1', 'x2', 'y1', 'y2'],
]);

/** What the standard objects to in texts themselves, which a page may hold all the same. */
const harmless = new Set(['surrogate-in-input-stream', 'noncharacter-in-input-stream']);

function panelOf(blocks: readonly Block[], { texts }: HostileFiles): string {
  const book = new PlaceBook(new Map(Object.entries(texts).map(([path, text]) => [path, readText(text).tape])));
  const numbers = new Map(placesIn(blocks).map((place, number) => [place, number]));
  return panelPage({ report: 'findings', blocks, today: 0, book, numbers, nonce: panelNonce });
}

/** Every text of a document, as it is given. */
function textsIn(blocks: readonly Block[]): readonly string[] {
  return blocks.flatMap((block): readonly string[] => {
    switch (block.kind) {
      case 'heading':
      case 'paragraph':
      case 'caution':
        return [block.text];
      case 'items':
        return block.items.flatMap(({ name, lines }) => [name, ...lines]);
      case 'findings':
        return block.findings.flatMap(({ check, record, message, help, place, related }) => [
          ...[check, message, place.file],
          ...[record, help].flatMap((text) => text ?? []),
          ...related.flatMap((other) => [other.message, other.place.file]),
        ]);
      case 'checks':
        return block.checks.flatMap(({ check, why }) => [check, why]);
      case 'table': {
        const cells = block.rows.flatMap((row) => row.slice(0, block.columns.length).map(cellText));
        return [block.caption, ...block.columns.map(({ title }) => title), ...cells];
      }
      case 'figure':
        return [
          ...[block.caption, block.description],
          ...block.drawing.marks.flatMap((mark) => (mark.shape === 'label' ? mark.text : [])),
        ];
      default:
        return block satisfies never;
    }
  });
}

/** The text of a page without the backticks that became code, and without those that did not. */
function shownIn(page: ReadPage): string {
  return named(page, 'main')
    .map(({ text }) => text.replaceAll('`', ''))
    .join('');
}

describe('pages', () => {
  it('no text brings an element, an attribute or a comment along', () => {
    assertLaw(
      400,
      fc.property(arbitraryReport, ({ blocks, files }) => {
        const page = readPage(panelOf(blocks, files));
        expect(page.errors.filter((error) => !harmless.has(error))).toEqual([]);
        expect(page.comments).toBe(0);
        expect(page.elements.filter(({ name }) => !elements.has(name))).toEqual([]);
        expect(
          page.elements.flatMap((one) => Object.keys(one.attributes)).filter((name) => !attributes.has(name)),
        ).toEqual([]);
        for (const name of ['script', 'style', 'main', 'h1']) expect(named(page, name)).toHaveLength(1);
        expect(named(page, 'title').filter(({ within }) => !within.includes('svg'))).toHaveLength(1);
      }),
    );
  });

  it('every text is shown, with what nobody would see made visible', () => {
    assertLaw(
      400,
      fc.property(arbitraryReport, ({ blocks, files }) => {
        const shown = shownIn(readPage(panelOf(blocks, files)));
        for (const text of textsIn(blocks)) expect(shown).toContain(visible(text).replaceAll('`', ''));
        expect(visible(shown)).toBe(shown);
      }),
    );
  });

  it('the same report gives the same page', () => {
    assertLaw(
      30,
      fc.property(arbitraryFaultyFiles, (files) => {
        const reversed = Object.fromEntries(Object.entries(files).reverse());
        expect(filePagesOf(reversed)).toEqual(filePagesOf(files));
      }),
    );
  });

  it('every link of a page in a file leads to an anchor of the pages', () => {
    assertLaw(
      60,
      fc.property(arbitraryFaultyFiles, (files) => {
        const pages = new Map(Object.entries(filePagesOf(files)).map(([file, html]) => [file, readPage(html)]));
        for (const [file, page] of pages) {
          const ids = page.elements.flatMap(({ attributes: { id } }) => id ?? []);
          expect(new Set(ids).size).toBe(ids.length);
          for (const { attributes } of named(page, 'a')) {
            const [target = '', anchor] = (attributes['href'] ?? '').split('#');
            const led = pages.get(target === '' ? file : target);
            expect(led, attributes['href']).toBeDefined();
            const isThere = (id: string): boolean => led?.elements.some((one) => one.attributes['id'] === id) === true;
            if (anchor !== undefined) expect(isThere(decodeURIComponent(anchor)), attributes['href']).toBe(true);
          }
          expect(named(page, 'button')).toEqual([]);
        }
      }),
    );
  });

  it('every button of a page in a panel names a place or a report', () => {
    assertLaw(
      60,
      fc.property(arbitraryFaultyFiles, (files) => {
        const pages = panelPagesOf(files);
        for (const { html, places } of Object.values(pages)) {
          for (const { attributes } of named(readPage(html), 'button')) {
            const { 'data-place': place, 'data-report': report } = attributes;
            if (report === undefined) expect(Number(place)).toBeLessThan(places);
            else expect(Object.keys(pages)).toContain(report);
          }
        }
      }),
    );
  });
});
