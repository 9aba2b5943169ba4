import type { Fill } from './image-blocks.ts';

/** What something blank is full of: `FFh`. */
export function fillInWords(fill: Fill): string {
  return fill === '00' ? '00h' : 'FFh';
}
