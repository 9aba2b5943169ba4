import { markdownCode, markdownText } from '../text/markdown-text.ts';
import { singleSpaced } from '../text/single-spaced.ts';
import { visible } from '../text/visible.ts';
import type { Hover, HoverBlock, Phrase, Piece } from './hover-blocks.ts';

/** A hover as Markdown. `uriOf` gives the address of a file of the base by its path. */
export function hoverMarkdown({ blocks }: Pick<Hover, 'blocks'>, uriOf: (path: string) => string): string {
  return blocks.map((block) => blockMarkdown(block, uriOf)).join('\n\n');
}

/** A hover for clients that take nothing but plain text. */
export function hoverPlainText({ blocks }: Hover): string {
  return blocks.map(blockText).join('\n\n');
}

function blockMarkdown(block: HoverBlock, uriOf: (path: string) => string): string {
  switch (block.kind) {
    case 'title': {
      const { name, typed, note } = block;
      return [`**${ownMarkdown(name)}**`, typed && markdownCode(typed), note].filter(Boolean).join(' · ');
    }
    case 'paragraph':
      return phraseMarkdown(block.text);
    case 'facts':
      return block.facts
        .map(({ label, text }) => `- **${ownMarkdown(`${label}:`)}** ${phraseMarkdown(text)}`)
        .join('\n');
    case 'base':
      return ['**In this base**', block.lines.map((line) => `- ${phraseMarkdown(line)}`).join('\n')].join('\n\n');
    case 'photo':
      return photoMarkdown(block, uriOf(block.path));
  }
}

function photoMarkdown({ path, shows }: Extract<HoverBlock, { kind: 'photo' }>, address: string): string {
  const code = markdownCode(path);
  const photo = unlinkable.test(path) ? code : `[${code}](<${destination(address)}>)`;
  return shows === undefined ? `Photo: ${photo}` : `Photo: ${photo}: ${markdownText(shows)}`;
}

/** Not every renderer finds the end of a link around text with these, even where they stand in code. */
const unlinkable = /[[\]`|]/;

/** An address that cannot end the link it stands in. */
function destination(address: string): string {
  return address.replace(/[\s<>\\]/g, (character) => encodeURIComponent(character));
}

function phraseMarkdown(text: Phrase): string {
  return text.map(pieceMarkdown).join('');
}

function pieceMarkdown(piece: Piece): string {
  if (typeof piece === 'string') return ownMarkdown(piece);
  return 'typed' in piece ? markdownCode(piece.typed) : markdownText(piece.quoted);
}

/** Words of our own: what stands between backticks as code, the rest as it is, blanks at its ends kept. */
function ownMarkdown(words: string): string {
  return words
    .split('`')
    .map((part, position) => (position % 2 === 1 ? markdownCode(part) : keepingBlanks(part)))
    .join('');
}

function keepingBlanks(text: string): string {
  const inner = markdownText(text);
  if (inner === '') return text === '' ? '' : ' ';
  return `${text.startsWith(' ') ? ' ' : ''}${inner}${text.endsWith(' ') ? ' ' : ''}`;
}

function blockText(block: HoverBlock): string {
  switch (block.kind) {
    case 'title':
      return [block.name, block.typed && `\`${visible(block.typed)}\``, block.note].filter(Boolean).join(' · ');
    case 'paragraph':
      return phraseText(block.text);
    case 'facts':
      return block.facts.map(({ label, text }) => `${label}: ${phraseText(text)}`).join('\n');
    case 'base':
      return ['In this base:', ...block.lines.map((line) => `- ${phraseText(line)}`)].join('\n');
    case 'photo':
      return `Photo: ${visible(block.path)}${block.shows === undefined ? '' : `: ${visible(block.shows)}`}`;
  }
}

function phraseText(text: Phrase): string {
  return text.map((piece) => (typeof piece === 'string' ? piece : pieceText(piece))).join('');
}

function pieceText(piece: Exclude<Piece, string>): string {
  return 'typed' in piece ? `\`${visible(piece.typed)}\`` : visible(singleSpaced(piece.quoted));
}
