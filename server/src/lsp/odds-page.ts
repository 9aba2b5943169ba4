import { URI } from 'vscode-uri';
import { familyDocument } from '../core/reports/family.ts';
import { collectOdds, oddsDocument } from '../core/reports/odds.ts';
import { renderText } from '../core/reports/render-text.ts';
import type { BaseSession } from './base-session.ts';
import { pageScheme } from './check-page.ts';
import { requireUsable } from './require-usable.ts';
import { canonicalUri } from './uris.ts';

/** Columns of a report as text. */
const width = 80;

const [allOdds, families] = ['/odds.txt', '/families/'];

/** Address of the page that shows the odds of a base, or all that is known of a family by its id. */
export function oddsPage({ root }: BaseSession, family: string | undefined): string {
  const path = family === undefined ? allOdds : `${families}${family}.txt`;
  return URI.from({ scheme: pageScheme, path, query: root }).toString();
}

/** What such a page of a base shows; undefined for any other address. */
export function oddsShownAt(base: BaseSession, uri: string): { readonly family: string | undefined } | undefined {
  const { path } = URI.parse(uri);
  const isFamily = path.startsWith(families) && path.endsWith('.txt');
  const family = isFamily ? path.slice(families.length, -'.txt'.length) : undefined;
  return canonicalUri(oddsPage(base, family)) === canonicalUri(uri) ? { family } : undefined;
}

/** The text of that page, once everything is read; undefined where the family is not recorded. Throws the answer where the base's config cannot be used. */
export function oddsText(base: BaseSession, id: string | undefined): string | undefined {
  requireUsable(base);
  const { snapshot, name: baseName } = base;
  const style = { width, strong: (text: string) => text };
  if (id === undefined) {
    const question = { family: undefined, given: undefined };
    return renderText(oddsDocument(collectOdds(snapshot, question), question, { snapshot, baseName }), style);
  }
  const family = snapshot.find('family', id);
  return family && renderText(familyDocument(family, snapshot), style);
}
