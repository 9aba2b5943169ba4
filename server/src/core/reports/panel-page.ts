import type { Place } from '../checks/finding.ts';
import { checkAnchor } from './page-links.ts';
import { type Page, renderHtml } from './render-html.ts';

/** What a page in a panel is made from. */
export interface PanelPageInput extends Omit<Page, 'links'> {
  /** Numbers of the places the host can show. */
  readonly numbers: ReadonlyMap<Place, number>;
  readonly nonce: string;
}

/** A report as a page for an editor's panel, which leads to places through its host. */
export function panelPage({ numbers, nonce, ...page }: PanelPageInput): string {
  const explained = new Set(
    page.blocks.flatMap((block) => (block.kind === 'checks' ? block.checks.map(({ check }) => check) : [])),
  );
  const links: Page['links'] = {
    toPlace: (place) => {
      const number = numbers.get(place);
      return number === undefined ? undefined : { place: number };
    },
    toReport: (report) => ({ report }),
    toCheck: (check) => (explained.has(check) ? { href: { anchor: checkAnchor(check) } } : undefined),
  };
  return renderHtml({ ...page, links }, { kind: 'panel', nonce });
}
