import { treeRecord } from '../../core/features/base-tree.ts';
import { recordBlocks } from '../../core/features/hover-record.ts';
import { placeIn } from '../../core/features/record-places.ts';
import { hoverMarkdown } from '../../core/features/render-hover.ts';
import { defineFeature } from '../feature.ts';
import { treeDetailRequest } from '../protocol.ts';
import { usableBase } from '../usable-base.ts';

/** What a node of the tree of a base stands for: its record in brief, and where to jump. */
export const treeDetail = defineFeature({
  request: treeDetailRequest,
  capabilities: () => ({}),
  answer: async ({ uri, key }, context) => {
    const base = await usableBase(uri, context);
    const { snapshot } = base;
    const record = treeRecord(key, snapshot);
    if (!record) return null;
    const blocks = recordBlocks(record, { snapshot, isIndexed: true });
    const tooltip = hoverMarkdown({ blocks }, (path) => base.uriOf(path));
    const [location] = await context.locate(base, [placeIn(snapshot.locate(record), ['id'])]);
    return { tooltip, ...(location && { location }) };
  },
});
