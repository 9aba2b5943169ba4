import { expect, it } from 'vitest';
import { type Hover, phrase } from '../../server/src/core/features/hover-blocks.ts';
import { hoverMarkdown, hoverPlainText } from '../../server/src/core/features/render-hover.ts';

const hover: Hover = {
  start: 0,
  end: 1,
  blocks: [
    { kind: 'title', name: 'Model', typed: '[x](command:y)`', note: 'required' },
    {
      kind: 'paragraph',
      text: phrase`Like ${'<b>'}, as ${[{ quoted: '[seen](https://a.example)\n# by me@a.example' }]}.`,
    },
    { kind: 'facts', facts: [{ label: 'At `spins`', text: ['works; 2 of ', ...phrase`${3} with ${'a\nb'}`] }] },
    { kind: 'base', lines: [phrase`In ${'*'}: 1.`] },
    { kind: 'photo', path: 'photos/a b).svg', shows: '![x](y.png)' },
    { kind: 'photo', path: 'photos/none.svg', shows: undefined },
  ],
};

it('stands in Markdown as it was typed, whatever was typed', () => {
  expect(hoverMarkdown(hover, (path) => `file:///base/${path}>`)).toBe(
    `**Model** · \`\` [x](command:y)\` \`\` · required

Like \`<b>\`, as \`[seen](https://a.example)\` # by \`me@a.example\`\\.

- **At \`spins\`\\:** works; 2 of 3 with \`a\\u000ab\`

**In this base**

- In \`*\`\\: 1.

Photo: [\`photos/a b).svg\`](<file:///base/photos/a%20b).svg%3E>): \`![x](y.png)\`

Photo: [\`photos/none.svg\`](<file:///base/photos/none.svg%3E>)`,
  );
});

it('leads to no photo whose name could end the link', () => {
  const shown = (path: string): string =>
    hoverMarkdown({ blocks: [{ kind: 'photo', path, shows: undefined }] }, (at) => `file:///base/${at}`);
  for (const path of ['a](command:x).svg', 'a[b.svg', 'a`b.svg', 'a|b.svg']) expect(shown(path)).not.toContain('](<');
  expect(shown('a.svg')).toContain('](<file:///base/a.svg>)');
});

it('stands in plain text on lines of its own', () => {
  expect(hoverPlainText(hover)).toBe(
    `Model · \`[x](command:y)\`\` · required

Like \`<b>\`, as [seen](https://a.example) # by me@a.example.

At \`spins\`: works; 2 of 3 with \`a\\u000ab\`

In this base:
- In \`*\`: 1.

Photo: photos/a b).svg: ![x](y.png)

Photo: photos/none.svg`,
  );
});
