import type { Place } from '../checks/finding.ts';
import type { Day } from '../terms/calendar.ts';
import type { Block } from './document.ts';
import { checkAnchor, lineAnchor, type PageLinks } from './page-links.ts';
import type { PlaceBook } from './place-book.ts';
import { pageFiles, renderHtml } from './render-html.ts';
import { type ReportInput, type ReportName, reportDocument, reportNames } from './report-set.ts';

/** What pages in files are made from. */
export interface FilePagesInput extends ReportInput {
  readonly today: Day;
  readonly book: PlaceBook;
  /** As in `sha256-…`, of the style of all pages. */
  readonly styleHash: string;
}

/** Every report of a base as a page in a file of its own, with the files' names. Places lead to what is said of their line. */
export function filePages(input: FilePagesInput): readonly { readonly file: string; readonly html: string }[] {
  const { today, book, styleHash } = input;
  const documents = new Map(reportNames.map((name) => [name, reportDocument(name, input)]));
  const anchors = anchorsIn(documents.get('findings') ?? [], book);
  return Array.from(documents, ([report, blocks]) => {
    const links = linksFrom(report, anchors, book);
    const page = { report, blocks, today, book, links };
    return { file: pageFiles[report], html: renderHtml(page, { kind: 'file', styleHash }) };
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
    return { href: report === 'findings' ? { anchor } : { file: pageFiles.findings, anchor } };
  };
  return {
    toPlace: (place) => toAnchor(anchorOf(place, book)),
    toCheck: (check) => toAnchor(checkAnchor(check)),
  };
}

function anchorOf(place: Place, book: PlaceBook): string | undefined {
  const shown = book.show(place);
  return shown && lineAnchor(shown.file, shown.line);
}
