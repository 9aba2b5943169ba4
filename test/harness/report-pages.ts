import { createHash } from 'node:crypto';
import { findingsOf, runChecks } from '../../server/src/core/checks/run-checks.ts';
import { placesIn } from '../../server/src/core/reports/document.ts';
import { filePages } from '../../server/src/core/reports/file-pages.ts';
import { pageStyle } from '../../server/src/core/reports/page-style.ts';
import { panelPage } from '../../server/src/core/reports/panel-page.ts';
import { PlaceBook } from '../../server/src/core/reports/place-book.ts';
import { nameOfFamily, type ReportName, reportNames } from '../../server/src/core/reports/report-name.ts';
import { reportDocument } from '../../server/src/core/reports/report-set.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { parseDate } from '../../server/src/core/terms/calendar.ts';
import { drained } from './drained.ts';
import { snapshotOf } from './snapshot-of.ts';

type Texts = Readonly<Record<string, string>>;

/** Today in pages. */
const today = parseDate('2026-11-25') ?? 0;

/** As the policy of pages in files names their style. */
const styleHash = `sha256-${createHash('sha256').update(pageStyle).digest('base64')}`;

/** What panels of these tests know style and script by. */
export const panelNonce = 'abcdefghijklmnop0123';

/** Every report of these files as a page in a file, by the files' names. */
export function filePagesOf(texts: Texts): Readonly<Record<string, string>> {
  const pages = filePages({ ...inputOf(texts), today, styleHash });
  return Object.fromEntries(pages.map(({ file, html }) => [file, html()]));
}

interface PanelPage {
  readonly html: string;
  readonly places: number;
}

/** Every report of these files as a page in a panel, with the number of places it may lead to. */
export function panelPagesOf(texts: Texts): Readonly<Record<ReportName, PanelPage>> {
  const input = inputOf(texts);
  const families = input.snapshot.records('family').map(({ id }) => nameOfFamily(id));
  const pages = [...reportNames, ...families].map((report) => {
    const blocks = reportDocument(report, input) ?? [];
    const numbers = new Map([...new Set(placesIn(blocks))].map((place, number) => [place, number]));
    const html = panelPage({ report, blocks, today, book: input.book, numbers, nonce: panelNonce });
    return [report, { html, places: numbers.size }] as const;
  });
  return Object.fromEntries(pages) as ReturnType<typeof panelPagesOf>;
}

function inputOf(texts: Texts) {
  const snapshot = snapshotOf(texts);
  const book = new PlaceBook(new Map(Object.entries(texts).map(([path, text]) => [path, readText(text).tape])));
  const findings = book.inOrder(findingsOf(drained(runChecks(snapshot, { today }))));
  return { snapshot, book, findings, baseName: snapshot.config.name ?? 'bench' };
}
