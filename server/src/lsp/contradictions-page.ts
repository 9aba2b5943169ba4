import { URI } from 'vscode-uri';
import { internalCheckFailed } from '../core/checks/internal-check-failed.ts';
import { collectContradictions, contradictionsDocument, reportedChecks } from '../core/reports/contradictions.ts';
import { renderText } from '../core/reports/render-text.ts';
import type { BaseSession } from './base-session.ts';
import { pageScheme } from './check-page.ts';
import type { Context } from './feature.ts';
import { requireUsable } from './require-usable.ts';

/** Columns of a report as text. */
const width = 80;

/** Address of the page that shows how the outcomes of a base stand to its rules and to each other. */
export function contradictionsPage({ root }: BaseSession): string {
  return URI.from({ scheme: pageScheme, path: '/contradictions.txt', query: root }).toString();
}

/** The text of that page, as the base is once everything is read and checked. Throws the answer where its config cannot be used. */
export async function contradictionsText(
  base: BaseSession,
  { whenIndexed, whenChecked, shownIn, token }: Context,
): Promise<string> {
  await whenIndexed(base);
  await whenChecked(base, token);
  const { snapshot, name } = base;
  requireUsable(base);
  const findings = Array.from(shownIn(base).values(), (file) => file.findings).flat();
  const reported = findings.filter(({ check }) => reportedIds.has(check));
  return renderText(contradictionsDocument(collectContradictions(snapshot), reported, name), {
    width,
    strong: (text) => text,
  });
}

const reportedIds: ReadonlySet<string> = new Set([...reportedChecks, internalCheckFailed].map(({ check }) => check));
