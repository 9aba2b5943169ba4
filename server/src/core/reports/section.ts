import type { Block } from './document.ts';

/** A part of a report under its own heading; none where there is nothing to say. */
export function section(text: string, blocks: readonly Block[]): Block[] {
  return blocks.length === 0 ? [] : [{ kind: 'heading', level: 2, text }, ...blocks];
}
