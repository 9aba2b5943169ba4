import type { Block } from './document.ts';
import { PlaceBook } from './place-book.ts';
import { renderHtml } from './render-html.ts';

/** A document that leads to no file of a base as a page in a file by itself. `styleHash` is that of the style of all pages, as in `sha256-…`. */
export function singlePage(blocks: readonly Block[], styleHash: string): string {
  const book = new PlaceBook(new Map());
  const links = { toPlace: () => undefined, toCheck: () => undefined };
  return renderHtml({ report: undefined, blocks, today: undefined, book, links }, { kind: 'file', styleHash });
}
