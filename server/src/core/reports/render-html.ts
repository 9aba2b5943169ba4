/**
 * Reports as pages: what `swaplore report` writes and what an editor shows in a panel. One renderer makes both, so that they look and
 * read alike.
 * Laws (test/property/render-html.property.test.ts):
 * - no text brings an element, an attribute or a comment along
 * - every text is shown, with what nobody would see made visible
 * - the same report gives the same page
 * - every link of a page in a file leads to an anchor of the pages
 * - every button of a page in a panel names a place or a report
 */
import { type Day, formatDate } from '../terms/calendar.ts';
import type { Block } from './document.ts';
import { type Attributes, Html } from './html.ts';
import { BlockRenderer } from './html-blocks.ts';
import { inline, withoutMarks } from './html-inline.ts';
import { type PageLinks, partAnchor } from './page-links.ts';
import { pageStyle } from './page-style.ts';
import { panelScript } from './panel-script.ts';
import type { PlaceBook } from './place-book.ts';
import type { ReportName } from './report-name.ts';
import { baseReports } from './report-titles.ts';

/** A report that is to become a page. */
export interface Page {
  /** Its name among the reports of a base; undefined where it stands by itself. */
  readonly report: ReportName | undefined;
  /** The document of the report. */
  readonly blocks: readonly Block[];
  /** The day the checks took for today; undefined where nothing depends on it. */
  readonly today: Day | undefined;
  readonly book: PlaceBook;
  readonly links: PageLinks;
}

/** Where a page is shown: from a file, in a browser; or in a panel, whose host sends and hears what the page's script says. */
export type PageSetting =
  /** `styleHash` names the style to browsers, as in `sha256-…`. Source: Content Security Policy Level 3, "Hash usage". */
  | { readonly kind: 'file'; readonly styleHash: string }
  /** `nonce` names the style and the script; nobody may be able to guess it. */
  | { readonly kind: 'panel'; readonly nonce: string };

/** By this a page is known for one of ours, so that it may be replaced. It stands within the first 1,000 bytes. */
export const pageMark = '<meta name="generator" content="Swaplore report">';

const { element } = Html;

/** A report as a complete page. Nothing in it comes from elsewhere, and its policy lets nothing in. */
export function renderHtml(page: Page, setting: PageSetting): string {
  const renderer = new BlockRenderer(page.book, page.links);
  const [title] = page.blocks.flatMap((block) => (block.kind === 'heading' && block.level === 1 ? block.text : []));
  const own: Attributes = setting.kind === 'panel' ? { nonce: setting.nonce } : {};
  const head = element(
    'head',
    {},
    element('meta', { charset: 'utf-8' }),
    element('meta', { 'http-equiv': 'Content-Security-Policy', content: policyOf(setting) }),
    element('meta', { name: 'generator', content: 'Swaplore report' }),
    element('meta', { name: 'viewport', content: 'width=device-width, initial-scale=1' }),
    element('title', {}, title && withoutMarks(title)),
    Html.own('style', own, pageStyle),
  );
  const body = element(
    'body',
    {},
    element('a', { class: 'skip', href: { anchor: 'report' } }, 'Skip to the report'),
    header(page, setting),
    element(
      'main',
      { id: 'report', tabindex: -1 },
      contents(page.blocks, (block) => renderer.render(block)),
    ),
    element('footer', {}, element('p', {}, footerText(page))),
    setting.kind === 'panel' ? Html.own('script', own, panelScript) : undefined,
  );
  return Html.page({ lang: 'en' }, head, body);
}

/** Nothing but our own style, and in panels our own script. */
function policyOf(setting: PageSetting): string {
  const own =
    setting.kind === 'file'
      ? [`style-src '${setting.styleHash}'`]
      : [`style-src 'nonce-${setting.nonce}'`, `script-src 'nonce-${setting.nonce}'`];
  return ["default-src 'none'", ...own, "base-uri 'none'", "form-action 'none'"].join('; ');
}

function footerText({ today }: Page): string {
  return `Made by Swaplore.${today === undefined ? '' : ` The checks took ${formatDate(today)} for today.`}`;
}

function header({ report }: Page, setting: PageSetting): Html {
  if (report === undefined) return element('header', {}, element('p', {}, 'Swaplore'));
  const entries = Object.entries(baseReports).map(([name, { title, file }]) => {
    const current = { 'aria-current': name === report ? 'page' : undefined };
    const entry =
      setting.kind === 'file'
        ? element('a', { href: { file }, ...current }, title)
        : element('button', { type: 'button', 'data-report': name, ...current }, title);
    return element('li', {}, entry);
  });
  return element(
    'header',
    {},
    element('p', {}, 'Swaplore'),
    element('nav', { 'aria-label': 'Reports' }, element('ul', {}, entries)),
  );
}

/** From this many parts on a page says at its beginning which there are, and up to that many at once. */
const [fewestListed, mostOpen] = [3, 12];

/** The title, a list of the parts where there are several, and the parts. */
function contents(blocks: readonly Block[], render: (block: Block) => Html): readonly (Html | undefined)[] {
  const titles = blocks.flatMap((block) => (block.kind === 'heading' && block.level === 2 ? block.text : []));
  const at = blocks.findIndex((block) => block.kind === 'heading' && block.level === 2);
  const [before, after] = at < 0 ? [blocks, []] : [blocks.slice(0, at), blocks.slice(at)];
  return [...before.map(render), titles.length < fewestListed ? undefined : partsList(titles), ...after.map(render)];
}

function partsList(titles: readonly string[]): Html {
  const entries = titles.map((title, position) =>
    element('li', {}, element('a', { href: { anchor: partAnchor(position) } }, inline(title))),
  );
  const open = titles.length <= mostOpen ? true : undefined;
  const list = element('details', { open }, element('summary', {}, 'On this page'), element('ul', {}, entries));
  return element('nav', { class: 'contents', 'aria-label': 'On this page' }, list);
}
