/**
 * Reports as Markdown for a comment on a change.
 * Source: CommonMark 0.31.2; GitHub Flavored Markdown 0.29, "Tables"; HTML, "The details element". Hosts take comments of 65,536
 * characters (from memory).
 * Laws (test/property/render-markdown.property.test.ts):
 * - texts of a report make no mark-up but code
 * - a comment is never longer than hosts take, and says so where something is left out
 */
import { cutText } from '../text/cut-text.ts';
import { elementText } from '../text/markdown-text.ts';
import { plural } from '../text/plural.ts';
import type { Block, Inline } from './document.ts';
import { inlineMarkdown, type MarkdownBlock, markdownBlock } from './markdown-blocks.ts';

/** UTF-16 code units of a comment. */
const longestComment = 60_000;

/** Of these, what is kept for saying what was left out. */
const keptForRest = 2_000;

/** UTF-16 code units from which a section is folded away. */
const longestOpen = 3_000;

/** UTF-16 code units of a title. */
const longestTitle = 120;

/** Sections that are named among those that were cut. */
const mostNamed = 10;

/** A report as Markdown; sections that are long are folded. What does not fit is left out from the end of its section, and said. */
export function renderMarkdown(blocks: readonly Block[]): string {
  let room = longestComment - keptForRest;
  const left: { readonly title: Inline; readonly count: number }[] = [];
  const texts = sectionsOf(blocks).map((section) => {
    const { text, count } = sectionMarkdown(section, room);
    room -= text.length;
    if (count > 0) left.push({ title: section.title, count });
    return text;
  });
  return [...texts, ...restMarkdown(left)].filter((text) => text !== '').join('\n');
}

/** A heading with what is below it. */
interface Section {
  readonly level: 1 | 2;
  readonly title: Inline;
  readonly blocks: readonly MarkdownBlock[];
}

function sectionsOf(blocks: readonly Block[]): readonly Section[] {
  const sections: { level: 1 | 2; title: Inline; blocks: MarkdownBlock[] }[] = [];
  for (const block of blocks) {
    if (block.kind === 'heading') sections.push({ level: block.level, title: block.text, blocks: [] });
    else {
      const markdown = markdownBlock(block);
      if (sections.length === 0) sections.push({ level: 1, title: '', blocks: [] });
      if (markdown) sections.at(-1)?.blocks.push(markdown);
    }
  }
  return sections;
}

/** As much of a section as there is room for, and the number of entries that are left out. */
function sectionMarkdown(section: Section, room: number): { readonly text: string; readonly count: number } {
  const frame = framed(section, '').length;
  const { text, count } = bodyMarkdown(section.blocks, room - frame);
  const isEmpty = text === '' && count > 0;
  return { text: isEmpty || frame > room ? '' : framed(section, text), count };
}

function bodyMarkdown(
  blocks: readonly MarkdownBlock[],
  room: number,
): { readonly text: string; readonly count: number } {
  let text = '';
  let count = 0;
  for (const { head, rows } of blocks) {
    const opening = head === '' ? '' : `${head}\n`;
    const taken = count > 0 ? 0 : fitting(rows, room - text.length - opening.length);
    if (taken > 0) text += `${opening}${rows.slice(0, taken).join('\n')}\n\n`;
    count += rows.length - taken;
  }
  return { text, count };
}

/** How many rows, each on lines of its own, there is room for with an empty line below. */
function fitting(rows: readonly string[], room: number): number {
  let size = 1;
  const first = rows.findIndex((row) => {
    size += row.length + 1;
    return size > room;
  });
  return first < 0 ? rows.length : first;
}

function framed({ level, title }: Section, body: string): string {
  const shown = cutText(title, longestTitle);
  const isFolded = level === 2 && body.length > longestOpen;
  // The longer frame counts where it is not known yet which it will be.
  if (!isFolded && body !== '') return `${headingMarkdown(level, shown)}${body}`;
  if (!isFolded && level === 1) return headingMarkdown(level, shown);
  return `<details>\n<summary>${elementText(shown.replaceAll('`', ''))}</summary>\n\n${body}</details>\n\n`;
}

function headingMarkdown(level: 1 | 2, title: Inline): string {
  const text = inlineMarkdown(title);
  return text === '' ? '' : `${'#'.repeat(level + 1)} ${text}\n\n`;
}

function restMarkdown(left: readonly { readonly title: Inline; readonly count: number }[]): string[] {
  if (left.length === 0) return [];
  const named = left
    .slice(0, mostNamed)
    .map(
      ({ title, count }) => `${count === 1 ? '1 entry' : `${count} entries`} under “${cutText(title, longestTitle)}”`,
    );
  const others = left.length - named.length;
  const more = others > 0 ? [`some under ${plural(others, 'more heading')}`] : [];
  return [`${inlineMarkdown(`Left out here, as a comment may only be so long: ${[...named, ...more].join(', ')}.`)}\n`];
}
