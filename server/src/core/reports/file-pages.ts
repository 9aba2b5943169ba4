import type { Place } from '../checks/finding.ts';
import type { Day } from '../terms/calendar.ts';
import type { ReportInput } from './define-report.ts';
import type { Block } from './document.ts';
import { checkAnchor, lineAnchor, type PageLinks } from './page-links.ts';
import type { PlaceBook } from './place-book.ts';
import { renderHtml } from './render-html.ts';
import { fileOfReport, nameOfFamily, type ReportName, reportNames } from './report-name.ts';
import { baseDocument, reportDocument } from './report-set.ts';

/** What pages in files are made from. */
export interface FilePagesInput extends ReportInput {
  readonly today: Day;
  readonly book: PlaceBook;
  /** As in `sha256-…`, of the style of all pages. */
  readonly styleHash: string;
}

/** A page in a file, made when it is asked for: a base may have many, and nobody needs two at once. */
export interface FilePage {
  /** The name of its file. */
  readonly file: string;
  readonly html: () => string;
}

/** Every report of a base as a page in a file of its own, those about the whole base first. Places lead to what is said of their line. */
export function filePages(input: FilePagesInput): readonly FilePage[] {
  const { snapshot, today, book, styleHash } = input;
  const findingsPage = baseDocument('findings', input);
  const anchors = anchorsIn(findingsPage, book);
  const reports = [...reportNames, ...snapshot.records('family').map(({ id }) => nameOfFamily(id))];
  return reports.flatMap((report) => {
    const file = fileOfReport(report);
    if (file === undefined) return [];
    const html = (): string => {
      const blocks = report === 'findings' ? findingsPage : (reportDocument(report, input) ?? []);
      const links = linksFrom(report, anchors, book);
      return renderHtml({ report, blocks, today, book, links }, { kind: 'file', styleHash });
    };
    return { file, html };
  });
}

/** The anchors on the page of findings. */
function anchorsIn(blocks: readonly Block[], book: PlaceBook): ReadonlySet<string> {
  const anchors = new Set<string>();
  for (const block of blocks) {
    if (block.kind === 'findings') for (const { place } of block.findings) anchors.add(anchorOf(place, book) ?? '');
    if (block.kind === 'checks') for (const { check } of block.checks) anchors.add(checkAnchor(check));
  }
  return anchors;
}

function linksFrom(report: ReportName, anchors: ReadonlySet<string>, book: PlaceBook): PageLinks {
  const toAnchor = (anchor: string | undefined) => {
    if (anchor === undefined || !anchors.has(anchor)) return undefined;
    const file = report === 'findings' ? undefined : fileOfReport('findings');
    return { href: file === undefined ? { anchor } : { file, anchor } };
  };
  return {
    toPlace: (place) => toAnchor(anchorOf(place, book)),
    toCheck: (check) => toAnchor(checkAnchor(check)),
    toReport: (other) => {
      const file = fileOfReport(other);
      return file === undefined ? undefined : { href: { file } };
    },
  };
}

function anchorOf(place: Place, book: PlaceBook): string | undefined {
  const shown = book.show(place);
  return shown && lineAnchor(shown.file, shown.line);
}
