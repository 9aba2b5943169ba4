import fc from 'fast-check';
import { placesIn } from '../../server/src/core/reports/document.ts';
import { panelPage } from '../../server/src/core/reports/panel-page.ts';
import { PlaceBook } from '../../server/src/core/reports/place-book.ts';
import { renderMarkdown } from '../../server/src/core/reports/render-markdown.ts';
import { renderText } from '../../server/src/core/reports/render-text.ts';
import { reviewData } from '../../server/src/core/reports/review-data.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { visible } from '../../server/src/core/text/visible.ts';
import { arbitraryFaultyFiles } from '../harness/arbitrary-faulty-files.ts';
import { arbitraryReport } from '../harness/arbitrary-report.ts';
import { arbitraryFileWalk } from '../harness/arbitrary-walk.ts';
import { readMarkdown } from '../harness/read-markdown.ts';
import { named, readPage } from '../harness/read-page.ts';
import { reviewOf } from '../harness/review-of.ts';
import { agree, demand } from './agree.ts';
import { madeTarget, type Target } from './target.ts';

/** What the standard objects to in texts themselves, which a page may hold all the same. */
const harmless = new Set(['surrogate-in-input-stream', 'noncharacter-in-input-stream']);

const nonce = 'abcdefghijklmnop0123';

const render = madeTarget({
  ...{ name: 'render', runsInSuite: 60, runs: 6_000, limitMs: 2_000 },
  feeds: 'reports whose texts and file names try to be mark-up',
  holds:
    'no renderer lets a text become an element, an attribute, a link or what acts on a terminal; each gives the same again',
  samples: arbitraryReport,
  run: ({ blocks, files }) => {
    const text = renderText(blocks, { width: 100, strong: (plain) => plain });
    agree('the text again', renderText(blocks, { width: 100, strong: (plain) => plain }), text);
    demand(
      visible(text.replaceAll('\n', '')) === text.replaceAll('\n', ''),
      'nothing in the text acts on a terminal',
      text,
    );
    const markdown = renderMarkdown(blocks);
    agree('the Markdown again', renderMarkdown(blocks), markdown);
    const rendered = readMarkdown(markdown);
    const ours = readMarkdown(markdown, 'withoutHtml');
    for (const name of ['a', 'img', 'script', 'svg', 'style']) {
      agree(`elements \`${name}\` of the Markdown`, [...named(rendered, name), ...named(ours, name)], []);
    }
    const book = new PlaceBook(new Map(Object.entries(files.texts).map(([path, own]) => [path, readText(own).tape])));
    const numbers = new Map(placesIn(blocks).map((place, number) => [place, number]));
    const page = readPage(panelPage({ report: 'findings', blocks, today: 0, book, numbers, nonce }));
    agree(
      'errors of the page',
      page.errors.filter((error) => !harmless.has(error)),
      [],
    );
    agree(
      'scripts and styles of the page',
      ['script', 'style', 'main', 'iframe', 'img'].map((name) => named(page, name).length),
      [1, 1, 1, 0, 0],
    );
    const handlers = page.elements
      .flatMap(({ attributes }) => Object.keys(attributes))
      .filter((name) => /^on/.test(name));
    agree('handlers of the page', handlers, []);
  },
});

/** Two states of a base that have something to do with each other, or nothing. */
const arbitraryStates = fc.oneof(
  arbitraryFileWalk({ minLength: 1, maxLength: 3 }).map((walk) => [walk[0], walk.at(-1) ?? walk[0]] as const),
  fc.tuple(arbitraryFaultyFiles, arbitraryFaultyFiles),
);

const review = madeTarget({
  ...{ name: 'review', runsInSuite: 15, runs: 5_000, limitMs: 6_000 },
  feeds: 'two states of a base, files of which are damaged',
  holds: 'turned round, what came is what went',
  samples: arbitraryStates,
  run: ([before, after]) => {
    const there = reviewOf(before, after);
    const said = (one: typeof there): unknown =>
      reviewData(one, { base: '', head: '', remarks: [], findingData: ({ check, message }) => ({ check, message }) });
    const back = reviewOf(after, before);
    const names = (list: readonly { readonly record: unknown }[]): number => list.length;
    agree('records that came and went', names(back.records.added), names(there.records.removed));
    agree('records that changed', names(back.records.changed), names(there.records.changed));
    agree('findings that came and went', back.findings.new.length, there.findings.gone.length);
    JSON.stringify(said(there));
  },
});

/** What people read. */
export const reportTargets: readonly Target[] = [render, review];
