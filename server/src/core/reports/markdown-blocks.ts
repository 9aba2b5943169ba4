import type { Finding } from '../checks/finding.ts';
import { cutText } from '../text/cut-text.ts';
import { markdownCode, markdownText } from '../text/markdown-text.ts';
import { visible } from '../text/visible.ts';
import { type Block, type Cell, cellText, type Inline, type Item } from './document.ts';

/** A block as Markdown that may be cut between its rows. */
export interface MarkdownBlock {
  /** What stands above the rows, and with none of them means nothing; may be empty. */
  readonly head: string;
  /** Whole entries, each of one or more lines; at least one. */
  readonly rows: readonly string[];
}

/** UTF-16 code units of a name and of a sentence: a file may hold one of a million characters. */
const [longestName, longestText] = [300, 3_000];

/** A block below a heading as Markdown; undefined where it has nothing in it. */
export function markdownBlock(block: Exclude<Block, { kind: 'heading' }>): MarkdownBlock | undefined {
  switch (block.kind) {
    case 'paragraph':
      return listOf('', [inlineMarkdown(block.text)]);
    case 'caution':
      return listOf('', [`> ${inlineMarkdown(block.text)}`]);
    case 'items':
      return listOf('', block.items.map(itemMarkdown));
    case 'findings':
      return listOf('', block.findings.map(findingMarkdown));
    case 'checks':
      return listOf(
        '',
        block.checks.map(({ check, why }) => itemMarkdown({ name: `\`${check}\``, lines: [why] })),
      );
    case 'table':
      return tableMarkdown(block);
    case 'figure':
      return listOf('', [`${inlineMarkdown(block.caption)}\n\n${fenced(block.lines)}`]);
  }
}

/** Running text with what stands between backticks as code. Empty for a text of blanks. */
export function inlineMarkdown(text: Inline, longest = longestText): string {
  const parts = cutText(text, longest).split(/`([^`]+)`/);
  return parts
    .map((part, position) => {
      if (position % 2 === 1) return markdownCode(part);
      const isBetween = position > 0 && position < parts.length - 1;
      // Two spans of code side by side would be read as one.
      if (part.trim() === '') return isBetween ? ' ' : '';
      const before = position > 0 && /^\s/.test(part) ? ' ' : '';
      const after = position < parts.length - 1 && /\s$/.test(part) ? ' ' : '';
      return `${before}${markdownText(part, position === 0 ? 'first' : 'within')}${after}`;
    })
    .join('');
}

function listOf(head: string, rows: readonly string[]): MarkdownBlock | undefined {
  return rows.length === 0 ? undefined : { head, rows };
}

function itemMarkdown({ name, lines }: Pick<Item, 'name' | 'lines'>): string {
  return entry(strong(inlineMarkdown(name, longestName)), lines);
}

function findingMarkdown({ severity, record, check, place, message, help, related }: Finding): string {
  const name = markdownCode(cutText(record ?? check, longestName));
  const file = markdownCode(cutText(place.file, longestName));
  // What is related within the file is marked where lines are shown; here it would say next to nothing.
  const others = related
    .filter((other) => other.place.file !== place.file)
    .map((other) => `${other.message} (\`${cutText(other.place.file, longestName)}\`)`);
  return entry(`${strong(severity)} ${name} (${file})`, [message, ...(help === undefined ? [] : [help]), ...others]);
}

function entry(first: string, lines: readonly Inline[]): string {
  return [`- ${first}`, ...lines.map((line) => `  - ${inlineMarkdown(line)}`)].join('\n');
}

/** Without anything inside, the marks would be a line across the page. */
function strong(markdown: string): string {
  return markdown === '' ? '' : `**${markdown}**`;
}

function tableMarkdown({ caption, columns, rows }: Extract<Block, { kind: 'table' }>): MarkdownBlock | undefined {
  const row = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`;
  const head = [
    inlineMarkdown(caption),
    '',
    row(columns.map(({ title }) => inlineMarkdown(title, longestName))),
    row(columns.map(({ align }) => (align === 'left' ? ':--' : '--:'))),
  ].join('\n');
  return listOf(
    head,
    rows.map((cells) => row(columns.map((_, at) => cellMarkdown(cells[at] ?? '')))),
  );
}

function cellMarkdown(cell: Cell): string {
  return inlineMarkdown(cellText(cell), longestName);
}

function fenced(lines: readonly string[]): string {
  const shown = lines.map((line) => visible(cutText(line, longestName)));
  const longest = Math.max(2, ...(shown.join('\n').match(/`+/g) ?? []).map(({ length }) => length));
  const fence = '`'.repeat(longest + 1);
  return [fence, ...shown, fence].join('\n');
}
