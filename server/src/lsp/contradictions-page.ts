import { URI } from 'vscode-uri';
import { renderText } from '../core/reports/render-text.ts';
import { baseDocument } from '../core/reports/report-set.ts';
import type { BaseSession } from './base-session.ts';
import { pageScheme } from './check-page.ts';
import { checkedFindings } from './checked-findings.ts';
import type { Context } from './feature.ts';
import { requireUsable } from './require-usable.ts';

/** Columns of a report as text. */
const width = 80;

/** Address of the page that shows how the outcomes of a base stand to its rules and to each other. */
export function contradictionsPage({ root }: BaseSession): string {
  return URI.from({ scheme: pageScheme, path: '/contradictions.txt', query: root }).toString();
}

/** The text of that page, as the base is once everything is read and checked. Throws the answer where its config cannot be used. */
export async function contradictionsText(base: BaseSession, context: Context): Promise<string> {
  const findings = await checkedFindings(base, context);
  requireUsable(base);
  const { snapshot, name: baseName } = base;
  const blocks = baseDocument('contradictions', { snapshot, findings, baseName });
  return renderText(blocks, { width, strong: (text) => text });
}
