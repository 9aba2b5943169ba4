import type { Inline } from './document.ts';
import { type Child, Html } from './html.ts';
import type { Link } from './page-links.ts';

/** Running text with what stands between backticks as code; a single backtick stays. */
export function inline(text: Inline): Child {
  return text.split(/`([^`]+)`/).map((part, position) => (position % 2 === 1 ? Html.element('code', {}, part) : part));
}

/** Running text where no part of it can be set apart: without the backticks around code. */
export function withoutMarks(text: Inline): string {
  return text.replace(/`([^`]+)`/g, '$1');
}

/** Something that leads to where a link says, or the same alone. */
export function linked(content: Child, link: Link | undefined): Child {
  if (!link) return content;
  if ('href' in link) return Html.element('a', { href: link.href }, content);
  const asked = 'place' in link ? { 'data-place': link.place } : { 'data-report': link.report };
  return Html.element('button', { type: 'button', ...asked }, content);
}
