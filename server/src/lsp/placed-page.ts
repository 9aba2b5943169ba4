import type { Finding } from '../core/checks/finding.ts';
import { filesOf } from '../core/checks/resolve-findings.ts';
import { type Block, placesIn } from '../core/reports/document.ts';
import { panelPage } from '../core/reports/panel-page.ts';
import { PlaceBook } from '../core/reports/place-book.ts';
import type { ReportName } from '../core/reports/report-name.ts';
import type { BaseSession } from './base-session.ts';
import type { Context } from './feature.ts';
import type { ReportAnswer } from './protocol.ts';

/** What a page is made from. */
interface PlacedPage {
  readonly base: BaseSession;
  /** Its name among the reports of the base; undefined where it stands by itself. */
  readonly report: ReportName | undefined;
  readonly blocks: readonly Block[];
  readonly book: PlaceBook;
  readonly nonce: string;
}

/** A document about a base as a page for a panel, with the places that an editor jumps to from it. */
export async function placedPage(
  { base, report, blocks, book, nonce }: PlacedPage,
  { locate, today }: Pick<Context, 'locate' | 'today'>,
): Promise<Pick<ReportAnswer, 'html' | 'places'>> {
  const places = [...new Set(placesIn(blocks))];
  const located = (await locate(base, places)).flatMap((location, at) => {
    const place = places[at];
    return location && place ? [{ place, location }] : [];
  });
  const numbers = new Map(located.map(({ place }, number) => [place, number]));
  const html = panelPage({ report, blocks, today: today(), book, numbers, nonce });
  return { html, places: located.map(({ location }) => location) };
}

/** The texts of the files that findings have places in, as far as they are still those that were checked. */
export async function bookOf(base: BaseSession, findings: readonly Finding[]): Promise<PlaceBook> {
  const checked = new Map(
    findings
      .flatMap(({ place, related }) => [place, ...related.map((other) => other.place)])
      .map(({ file, contentId }) => [file, contentId]),
  );
  const texts = await base.textsOf([...filesOf(findings)]);
  return new PlaceBook(
    new Map(
      [...texts].flatMap(([path, { contentId, tape }]) =>
        checked.get(path) === contentId ? [[path, tape] as const] : [],
      ),
    ),
  );
}
