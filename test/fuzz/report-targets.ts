import fc from 'fast-check';
import type { Finding } from '../../server/src/core/checks/finding.ts';
import { placesIn } from '../../server/src/core/reports/document.ts';
import { panelPage } from '../../server/src/core/reports/panel-page.ts';
import { PlaceBook } from '../../server/src/core/reports/place-book.ts';
import { renderMarkdown } from '../../server/src/core/reports/render-markdown.ts';
import { renderText } from '../../server/src/core/reports/render-text.ts';
import { reviewData } from '../../server/src/core/reports/review-data.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { visible } from '../../server/src/core/text/visible.ts';
import { arbitraryDamage, damageText } from '../harness/arbitrary-damage.ts';
import { arbitraryFaultyFiles } from '../harness/arbitrary-faulty-files.ts';
import { arbitraryReport } from '../harness/arbitrary-report.ts';
import { arbitraryFileWalk } from '../harness/arbitrary-walk.ts';
import { readMarkdown } from '../harness/read-markdown.ts';
import { named, readPage } from '../harness/read-page.ts';
import { reviewOf } from '../harness/review-of.ts';
import { ternBench } from '../harness/tern-bench.ts';
import { agree, agreeFromCache, demand } from './agree.ts';
import { madeTarget, type Target } from './target.ts';
import { textOf } from './text-of.ts';
import { recordSeeds } from './yaml-seeds.ts';

/** What the standard objects to in texts themselves, which a page may hold all the same. */
const harmless = new Set(['surrogate-in-input-stream', 'noncharacter-in-input-stream']);

/** Documents of the texts of the project. */
const documents = recordSeeds().map(textOf);

const nonce = 'abcdefghijklmnop0123';

const render = madeTarget({
  ...{ name: 'render', runsInSuite: 40, runs: 5_000, limitMs: 2_000 },
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

/** A small base, some files of which are damaged or hold other records. */
const arbitraryBench = fc
  .array(fc.tuple(fc.nat(), fc.nat(), fc.option(arbitraryDamage)), { maxLength: 3 })
  .map((changes) => {
    const texts: Record<string, string> = { ...ternBench };
    const paths = Object.keys(texts);
    for (const [pick, other, damage] of changes) {
      const path = paths[pick % paths.length] ?? '';
      const text = damage ? (texts[path] ?? '') : (documents[other % documents.length] ?? '');
      texts[path] = damage ? damageText(text, damage) : text;
    }
    return texts;
  });

/** Two states of a base that have something to do with each other, or nothing. Random bases take ten times as long. */
const arbitraryStates = fc.tuple(
  fc.oneof(
    { weight: 12, arbitrary: fc.tuple(arbitraryBench, arbitraryBench) },
    {
      weight: 1,
      arbitrary: arbitraryFileWalk({ minLength: 1, maxLength: 3 }).map(
        (walk) => [walk[0], walk.at(-1) ?? walk[0]] as const,
      ),
    },
    { weight: 1, arbitrary: fc.tuple(arbitraryFaultyFiles, arbitraryFaultyFiles) },
  ),
  fc.boolean(),
);

const review = madeTarget({
  ...{ name: 'review', runsInSuite: 8, runs: 5_000, limitMs: 6_000 },
  feeds: 'two states of a base, files of which are damaged',
  holds: 'turned round, what came is what went',
  samples: arbitraryStates,
  run: ([[before, after], isTurned]) => {
    const there = reviewOf(before, after);
    const findingData = ({ check, message }: Finding): object => ({ check, message });
    agreeFromCache('a review as JSON', reviewData(there, { base: '', head: '', remarks: [], findingData }));
    // Twice the time: half the samples will do.
    if (!isTurned) return;
    const back = reviewOf(after, before);
    agree('records that came and went', back.records.added.length, there.records.removed.length);
    agree('records that changed', back.records.changed.length, there.records.changed.length);
    agree('findings that came and went', back.findings.new.length, there.findings.gone.length);
  },
});

/** What people read. */
export const reportTargets: readonly Target[] = [render, review];
