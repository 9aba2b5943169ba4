import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import { baseReports } from '../../../server/src/core/reports/report-titles.ts';
import type { Workbench } from './workbench.ts';

/** Rules for accessible pages. Source: axe-core, which tests the success criteria of WCAG 2.2 that a program can test. */
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Themes that come with the editor, by the class its panels have in them. */
export const themes = {
  'vscode-light': 'Light Modern',
  'vscode-dark': 'Dark Modern',
  'vscode-high-contrast': 'Dark High Contrast',
  'vscode-high-contrast-light': 'Light High Contrast',
} as const;

/** Names of the reports as their panel gives them. */
export const reports = Object.values(baseReports).map(({ title }) => title);

/** Holds every report, in every theme, against the rules for accessible pages. Throws where one is broken. */
export async function expectReportsReadWell(workbench: Workbench): Promise<void> {
  await workbench.openReports();
  for (const [look, theme] of Object.entries(themes)) {
    await workbench.chooseTheme(theme);
    await workbench.report.locator(`body.${look}`).waitFor();
    for (const report of reports) {
      await workbench.showReport(report);
      const faults = await faultsOf(workbench);
      if (faults.length > 0) throw new Error(`${report}, ${theme}: ${faults.join('\n')}`);
    }
  }
}

/** Faults with the elements that have them, all but those of the frame around, which is the editor's. */
async function faultsOf({ report }: Workbench): Promise<readonly string[]> {
  const frame = await (await report.locator('html').elementHandle())?.ownerFrame();
  if (!frame) throw new Error('the panel has no page');
  // What the browser is told to evaluate is no script of the page, whose policy would forbid it.
  await frame.evaluate(axe);
  const { violations } = await frame.evaluate<AxeResults>('axe.run(document, { iframes: false })');
  return violations.flatMap(({ id, impact, nodes }) =>
    nodes.map(({ html, any }) => `${impact} ${id}: ${html.slice(0, 200)} ${any[0]?.message ?? ''}`),
  );
}
