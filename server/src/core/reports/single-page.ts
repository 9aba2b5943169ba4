import type { Block } from './document.ts';
import { PlaceBook } from './place-book.ts';
import { type PageSetting, renderHtml } from './render-html.ts';

/** A document that leads to no file of a base as a page by itself. */
export function singlePage(blocks: readonly Block[], setting: PageSetting): string {
  const book = new PlaceBook(new Map());
  const links = { toPlace: () => undefined, toCheck: () => undefined, toReport: () => undefined };
  return renderHtml({ report: undefined, blocks, today: undefined, book, links }, setting);
}
