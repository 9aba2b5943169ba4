/**
 * What is said of the key or value under the cursor.
 * Laws (test/property/hover.property.test.ts):
 * - no offset of any text, whole or damaged, makes it throw
 * - a hover begins with a title, and the offset lies within it
 * - nothing is said of the base before it is indexed
 */
import { baseSays } from './hover-base-says.ts';
import type { Hover, HoverBlock } from './hover-blocks.ts';
import { type HoverContext, hoverContextAt } from './hover-context.ts';
import { keyBlocks } from './hover-key.ts';
import { valueBlocks } from './hover-value.ts';
import type { OpenFile } from './open-file.ts';
import { verifyFacts } from './verify-facts.ts';

/** The hover at an offset; undefined where nothing is known: in gaps, at keys of no schema and at values that speak for themselves. */
export function hoverAt(file: OpenFile, offset: number): Hover | undefined {
  const context = hoverContextAt(file, offset);
  if (!context) return undefined;
  const { start, end, side, row } = context;
  const blocks =
    side === 'key' ? [...keyBlocks(row), ...keyFacts(context), ...baseSays(context)] : valueBlocks(context);
  return blocks.length === 0 ? undefined : { start, end, blocks };
}

/** What the rows under a key come to. */
function keyFacts(context: HoverContext): readonly HoverBlock[] {
  const facts = verifyFacts(context);
  return facts.length === 0 ? [] : [{ kind: 'facts', facts }];
}
