import { URI, Utils } from 'vscode-uri';
import { reviewDocument } from '../../core/reports/review.ts';
import { reviewChange } from '../../core/review/review-change.ts';
import { shortName } from '../../core/text/short-name.ts';
import { loadConfig } from '../../host/load-base.ts';
import type { RevisionSides } from '../../host/revision-reader.ts';
import type { BaseSession } from '../base-session.ts';
import { type Context, defineFeature } from '../feature.ts';
import { bookOf, placedPage } from '../placed-page.ts';
import { type ReviewParams, reviewRequest } from '../protocol.ts';
import { refused } from '../refused.ts';
import { requireNonce } from '../require-nonce.ts';
import { canonicalUri } from '../uris.ts';
import { usableBase } from '../usable-base.ts';

/** What the changes of a base come to, as a page for a panel: what `swaplore review` says of them. */
export const review = defineFeature({
  request: reviewRequest,
  capabilities: () => ({}),
  answer: async ({ against, uri, nonce }, context) => {
    const { today, inSlices, token } = context;
    requireNonce(nonce);
    const base = await usableBase(uri, context);
    const sides = await sidesOf(base, against, context);
    if ('reason' in sides) throw refused(sides.reason);
    const found = await inSlices(reviewChange(sides, today()), () => token.isCancellationRequested);
    const name = shortName('revision' in against ? against.revision : folderName(against.folder));
    const blocks = reviewDocument(found, { base: name, head: 'the files as they are now', remarks: sides.notes });
    const book = await bookOf(base, found.findings.new);
    const page = await placedPage({ base, report: undefined, blocks, book, nonce }, context);
    return { title: `${base.name}: review against ${name}`, ...page };
  },
});

type Sides = Promise<RevisionSides | { readonly reason: string }>;

async function sidesOf(base: BaseSession, against: ReviewParams['against'], context: Context): Sides {
  const { snapshot: now, root } = base;
  if ('folder' in against) return folderSides(against.folder, now, context);
  const sides = await context.revisionsOf(base)?.compare(root, against.revision, now);
  return sides ?? { reason: 'The history of these files cannot be read here.' };
}

async function folderSides(folder: string, after: RevisionSides['after'], { readerOf }: Context): Sides {
  const reader = readerOf(canonicalUri(folder));
  const configFile = reader && (await loadConfig(reader));
  if (!reader || !configFile?.reading.isUsable) {
    return {
      reason: `\`${shortName(folderName(folder))}\` holds no \`swaplore.yaml\` that can be used, so there is no base to compare with.`,
    };
  }
  return { before: await reader.load(configFile, () => undefined), after, notes: [] };
}

function folderName(address: string): string {
  return Utils.basename(URI.parse(address));
}
