import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { elementText, markdownCode, markdownText } from '../../server/src/core/text/markdown-text.ts';
import { visible } from '../../server/src/core/text/visible.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { type Inline, readInlines } from '../harness/read-inlines.ts';
import { readMarkdown } from '../harness/read-markdown.ts';

/** Pieces that begin, end or are mark-up in CommonMark, in GitHub's flavour or in an editor's. */
const pieces = [
  ...['', ' ', '  ', '    ', '\t', '\n', '\r\n', '\n\n', '\u2028', '\u00a0', '\u202e', '\u0000', '\u0007'],
  ...['`', '``', '```', '~~~', '```js\n', '\\', '\\\\', '*', '**', '_', '~~', '|', '|-|-|', ':-:', '---', '===', '***'],
  ...[
    '#',
    '# ',
    '> ',
    '- ',
    '+ ',
    '1. ',
    '2) ',
    '- [ ] ',
    '[^1]',
    '[^1]: ',
    '$',
    '$$',
    '$(zap)',
    ':smile:',
    '&amp;',
    '&#35;',
  ],
  ...[
    '[',
    ']',
    '](',
    ')',
    '!',
    '![a](b.png)',
    '[a](command:x)',
    '[a]: http://b.example',
    '<',
    '>',
    '<b>',
    '</a>',
    '<!--',
    '<?',
  ],
  ...[
    'https://a.example/b',
    'http:',
    '//',
    'www.',
    'www.a.example',
    'a@b.example',
    '@',
    '@bench',
    'a.example',
    '#12',
    '12',
  ],
  ...[
    '<https://a.example>',
    '<script>alert(1)</script>',
    'mailto:a@b.example',
    'xmpp:a@b.example/c',
    'command:x',
    'ftp://a',
  ],
  ...['a', 'b', 'rev', 'A1', 'é', '😀', '\ud800', "'", '"', ',', ';', '%', '/', '?', '{', '}', '(', '=', '^'],
];

const arbitraryText = fc.oneof(
  fc.array(fc.constantFrom(...pieces), { maxLength: 8 }).map((parts) => parts.join('')),
  fc.string({ unit: 'grapheme' }),
  fc.string({ unit: 'binary' }),
);

/** What inlines show, code and text alike. */
function shown(inlines: readonly Inline[]): string {
  return inlines.map(({ text }) => text).join('');
}

describe('Markdown text', () => {
  it('running text shows the words it was given and holds no other mark-up than code', () => {
    assertLaw(
      2000,
      fc.property(arbitraryText, (text) => {
        const words = visible(text.split(/\s+/).filter(Boolean).join(' '));
        expect(shown(readInlines(markdownText(text)))).toBe(words);
      }),
    );
  });

  it('a code span shows the text it was given and nothing else', () => {
    assertLaw(
      2000,
      fc.property(arbitraryText, (text) => {
        const inlines = readInlines(markdownCode(text));
        expect(shown(inlines)).toBe(visible(text));
        for (const { isCode, text: part } of inlines) if (!isCode) expect(part).toMatch(/^\|+$/);
      }),
    );
  });

  it('what looks like an address stands in code, where nothing makes it a link', () => {
    assertLaw(
      2000,
      fc.property(arbitraryText, (text) => {
        const running = readInlines(markdownText(text)).filter(({ isCode }) => !isCode);
        for (const { text: part } of running) expect(part).not.toMatch(/:\/\/|www\.|@|#\d|[a-z0-9]\.[a-z]{2}/i);
      }),
    );
  });

  it('both stay on one line', () => {
    assertLaw(
      1000,
      fc.property(arbitraryText, (text) => {
        for (const written of [markdownText(text), markdownCode(text)]) expect(written).not.toMatch(/[\n\r\t\u2028]/);
        expect(markdownText(text)).not.toMatch(/^\s|\s$/);
      }),
    );
  });

  it('text in an element shows the words it was given, whether a renderer knows the element or not', () => {
    assertLaw(
      500,
      fc.property(arbitraryText, (text) => {
        const markdown = `<details>\n<summary>${elementText(text)}</summary>\n\n</details>\n`;
        const words = visible(text.split(/\s+/).filter(Boolean).join(' '));
        const page = readMarkdown(markdown);
        expect(page.elements.find(({ name }) => name === 'summary')?.text).toBe(words);
        const own = new Set(['html', 'head', 'body', 'details', 'summary', 'code']);
        for (const { name } of page.elements) expect(own).toContain(name);
        const plain = readMarkdown(markdown, 'withoutHtml');
        for (const { name } of plain.elements) expect(['html', 'head', 'body', 'p']).toContain(name);
      }),
    );
  });
});
