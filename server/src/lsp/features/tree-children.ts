import { treeChildren as childrenOf } from '../../core/features/base-tree.ts';
import { defineFeature } from '../feature.ts';
import { type SentTreeNode, treeChildrenRequest } from '../protocol.ts';
import { usableBase } from '../usable-base.ts';

/** A level of the tree of a base, once that is read whole: what belongs to no family rests on absence. */
export const treeChildren = defineFeature({
  request: treeChildrenRequest,
  capabilities: () => ({}),
  answer: async ({ uri, key }, context) => {
    const base = await usableBase(uri, context);
    const { inSlices, token } = context;
    const { snapshot } = base;
    const nodes = await inSlices(childrenOf(key, snapshot), () => token.isCancellationRequested);
    return nodes.map(({ children, record, ...node }): SentTreeNode => {
      const file = record && { uri: base.uriOf(snapshot.locate(record).file.path) };
      return { ...node, isCollapsible: children > 0, ...file };
    });
  },
});
