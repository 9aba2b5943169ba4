import markdownIt from 'markdown-it';
import { type ReadPage, readPage } from './read-page.ts';

/** Readers of the flavour that knows tables, strikethrough and bare addresses: one that lets HTML through and one that shows it as text. */
const readers = {
  withHtml: markdownIt({ html: true, linkify: true }),
  withoutHtml: markdownIt({ html: false, linkify: true }),
};

/** Markdown as a page, read as hosts of comments read it. */
export function readMarkdown(markdown: string, reader: keyof typeof readers = 'withHtml'): ReadPage {
  return readPage(`<!doctype html><html><body>${readers[reader].render(markdown)}</body></html>`);
}
