/** The scheme of pages that the server writes itself. */
export const pageScheme = 'swaplore';

/** Address of the page that explains a check. */
export function checkPage(check: string): string {
  return `${pageScheme}:/checks/${check}.md`;
}
