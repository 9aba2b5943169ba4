import type { ResponseError } from 'vscode-languageserver';
import type { Finding } from '../../core/checks/finding.ts';
import { filesOf } from '../../core/checks/resolve-findings.ts';
import { type Block, placesIn } from '../../core/reports/document.ts';
import { panelPage } from '../../core/reports/panel-page.ts';
import { PlaceBook } from '../../core/reports/place-book.ts';
import {
  isBaseReport,
  isReportName,
  type ReportName,
  reportTitles,
  subjectOf,
} from '../../core/reports/report-name.ts';
import { type ReportInput, reportDocument } from '../../core/reports/report-set.ts';
import { shortName } from '../../core/text/short-name.ts';
import type { BaseSession } from '../base-session.ts';
import { baseMeant } from '../bases-meant.ts';
import { checkedFindings } from '../checked-findings.ts';
import { defineFeature } from '../feature.ts';
import { reportRequest } from '../protocol.ts';
import { refused } from '../refused.ts';
import { requireNonce } from '../require-nonce.ts';
import { requireUsable } from '../require-usable.ts';

/** A report as a page for a panel: the same that the command line writes, with places an editor jumps to. */
export const report = defineFeature({
  request: reportRequest,
  capabilities: () => ({}),
  answer: async ({ report: name, uri, nonce }, context) => {
    const { allBases, locate, today } = context;
    if (!isReportName(name)) throw noReport(name);
    requireNonce(nonce);
    const base = baseMeant(await allBases(), uri);
    const found = await checkedFindings(base, context);
    if (name !== 'findings') requireUsable(base);
    const { snapshot, name: baseName } = base;
    const book = await bookOf(base, found);
    const findings = book.inOrder(found);
    const blocks = documentOf(name, { snapshot, findings, baseName });
    const places = [...new Set(placesIn(blocks))];
    const located = (await locate(base, places)).flatMap((location, at) => {
      const place = places[at];
      return location && place ? [{ place, location }] : [];
    });
    const numbers = new Map(located.map(({ place }, number) => [place, number]));
    const html = panelPage({ report: name, blocks, today: today(), book, numbers, nonce });
    const title = `${baseName}: ${titleOf(name)}`;
    return { title, html, places: located.map(({ location }) => location) };
  },
});

/** The texts of the files that findings have places in, as far as they are still those that were checked. */
async function bookOf(base: BaseSession, findings: readonly Finding[]): Promise<PlaceBook> {
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

function documentOf(name: ReportName, input: ReportInput): readonly Block[] {
  const blocks = reportDocument(name, input);
  if (!blocks) throw noReport(name);
  return blocks;
}

function titleOf(name: ReportName): string {
  if (isBaseReport(name)) return reportTitles[name];
  const { about, id } = subjectOf(name);
  const before: Readonly<Record<typeof about, string>> = {
    family: '',
    donors: 'donors for ',
    plan: 'the next trial: ',
  };
  return before[about] + shortName(id);
}

function noReport(name: string): ResponseError<void> {
  return refused(`There is no report \`${shortName(name)}\`.`);
}
