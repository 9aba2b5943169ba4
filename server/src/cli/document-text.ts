import type { Block } from '../core/reports/document.ts';
import { renderText } from '../core/reports/render-text.ts';
import { styled, type Terminal } from './terminal.ts';

/** A document as text that fits a terminal. */
export function documentText(blocks: readonly Block[], terminal: Terminal): string {
  return renderText(blocks, { width: terminal.columns, strong: (text) => styled(terminal, 'bold', text) });
}
