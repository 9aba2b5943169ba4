import { TextDocumentContentRequest } from 'vscode-languageserver';
import { checkText, pageScheme } from '../check-page.ts';
import { contradictionsPage, contradictionsText } from '../contradictions-page.ts';
import { type Context, defineFeature } from '../feature.ts';
import { oddsShownAt, oddsText } from '../odds-page.ts';
import { refused } from '../refused.ts';
import { canonicalUri } from '../uris.ts';

/** Pages that the server writes itself: explanations of checks that diagnostics lead to, and reports. */
export const textDocumentContent = defineFeature({
  request: TextDocumentContentRequest.type,
  capabilities: ({ workspace }) =>
    workspace?.textDocumentContent ? { workspace: { textDocumentContent: { schemes: [pageScheme] } } } : {},
  answer: async ({ uri }, context) => {
    const text = checkText(uri) ?? (await reportText(uri, context));
    if (text === undefined) throw refused(`There is no page ${uri}.`);
    return { text };
  },
});

async function reportText(uri: string, context: Context): Promise<string | undefined> {
  const bases = await context.allBases();
  for (const base of bases) {
    if (canonicalUri(contradictionsPage(base)) === canonicalUri(uri)) return contradictionsText(base, context);
    const shown = oddsShownAt(base, uri);
    if (!shown) continue;
    await context.whenIndexed(base);
    return oddsText(base, shown.family);
  }
  return undefined;
}
