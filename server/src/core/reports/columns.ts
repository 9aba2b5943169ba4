import type { Column } from './document.ts';

/** A column of words. */
export function left(title: string): Column {
  return { title, align: 'left' };
}

/** A column of numbers. */
export function right(title: string): Column {
  return { title, align: 'right' };
}
