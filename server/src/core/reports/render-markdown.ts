import { markdownText } from '../text/markdown-text.ts';
import type { Block } from './document.ts';

/** A report as Markdown for a comment: at most 60,000 UTF-16 code units. Texts are shown as they are and do nothing. */
export function renderMarkdown(blocks: readonly Block[]): string {
  const texts = blocks.flatMap((block) => ('text' in block ? markdownText(block.text) : []));
  return `${texts.join('\n\n')}\n`;
}
