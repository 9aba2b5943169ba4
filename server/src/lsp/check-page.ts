import { checks } from '../core/checks/registry.ts';
import { explainCheck } from '../core/reports/explain-check.ts';
import { canonicalUri } from './uris.ts';

/** The scheme of pages that the server writes itself. */
export const pageScheme = 'swaplore';

/** Address of the page that explains a check. */
export function checkPage(check: string): string {
  return `${pageScheme}:/checks/${check}.md`;
}

/** The text of the page of a check with this address, in Markdown; undefined where there is none. */
export function checkText(uri: string): string | undefined {
  const check = checks.find((one) => canonicalUri(checkPage(one.check)) === canonicalUri(uri));
  return check && `# \`${check.check}\`\n\n${explainCheck(check)}\n`;
}
