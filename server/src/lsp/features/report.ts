import type { ResponseError } from 'vscode-languageserver';
import type { ReportInput } from '../../core/reports/define-report.ts';
import type { Block } from '../../core/reports/document.ts';
import { isBaseReport, isReportName, type ReportName, subjectOf } from '../../core/reports/report-name.ts';
import { reportDocument } from '../../core/reports/report-set.ts';
import { baseReports, recordTitles } from '../../core/reports/report-titles.ts';
import { shortName } from '../../core/text/short-name.ts';
import { baseMeant } from '../bases-meant.ts';
import { checkedFindings } from '../checked-findings.ts';
import { defineFeature } from '../feature.ts';
import { bookOf, placedPage } from '../placed-page.ts';
import { reportRequest } from '../protocol.ts';
import { refused } from '../refused.ts';
import { requireNonce } from '../require-nonce.ts';
import { requireUsable } from '../require-usable.ts';

/** A report as a page for a panel: the same that the command line writes, with places an editor jumps to. */
export const report = defineFeature({
  request: reportRequest,
  capabilities: () => ({}),
  answer: async ({ report: name, uri, nonce }, context) => {
    const { allBases } = context;
    if (!isReportName(name)) throw noReport(name);
    requireNonce(nonce);
    const base = baseMeant(await allBases(), uri);
    const found = await checkedFindings(base, context);
    if (name !== 'findings') requireUsable(base);
    const { snapshot, name: baseName } = base;
    const book = await bookOf(base, found);
    const findings = book.inOrder(found);
    const blocks = documentOf(name, { snapshot, findings, baseName });
    const page = await placedPage({ base, report: name, blocks, book, nonce }, context);
    const title = `${baseName}: ${titleOf(name)}`;
    return { title, ...page };
  },
});

function documentOf(name: ReportName, input: ReportInput): readonly Block[] {
  const blocks = reportDocument(name, input);
  if (!blocks) throw noReport(name);
  return blocks;
}

function titleOf(name: ReportName): string {
  if (isBaseReport(name)) return baseReports[name].title;
  const { about, id } = subjectOf(name);
  return recordTitles[about] + shortName(id);
}

function noReport(name: string): ResponseError<void> {
  return refused(`There is no report \`${shortName(name)}\`.`);
}
