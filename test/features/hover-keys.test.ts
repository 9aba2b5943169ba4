import { describe, expect, it } from 'vitest';
import { hoverAt } from '../../server/src/core/features/hover.ts';
import { hoverMarkdown, hoverPlainText } from '../../server/src/core/features/render-hover.ts';
import { type KeyRow, keyNodes } from '../../server/src/core/schema/key-rows.ts';
import { kinds } from '../../server/src/core/terms/kinds.ts';
import { openAt } from '../harness/open-at.ts';

/** A key with the flow text of its document, the cursor in front of it. */
interface KeyCase {
  readonly root: string;
  readonly node: string;
  readonly row: KeyRow;
  readonly text: string;
}

/** Every key below a node, each shape of map entered once. `wrap` puts the text of an entry into its document. */
function keysBelow(root: string, node: string, wrap: (entry: string) => string, entered: Set<string>): KeyCase[] {
  entered.add(node);
  return (keyNodes[node] ?? []).flatMap((row) => {
    const own: KeyCase = { root, node, row, text: wrap(`$0${row.name}: 1`) };
    if (row.node === undefined || entered.has(row.node)) return [own];
    const inside = (entry: string): string =>
      wrap(`${row.name}: ${row.list === 'yes' ? `[{${entry}}]` : `{${entry}}`}`);
    return [own, ...keysBelow(root, row.node, inside, entered)];
  });
}

const entered = new Set<string>();
const cases = [
  ...kinds.flatMap((kind) =>
    keysBelow(
      kind,
      kind,
      (entry) => (entry.startsWith('$0kind') ? `{$0kind: ${kind}}` : `{kind: ${kind}, ${entry}}`),
      entered,
    ),
  ),
  ...keysBelow('config', 'config', (entry) => `{${entry}}`, entered),
];

describe('the hover of a key', () => {
  it('is asked for every key of the key table', () => {
    // Captures and maps of tables stand in no base, so no editor asks about them here.
    const elsewhere = new Set<string>();
    for (const root of ['capture', 'mapping']) keysBelow(root, root, (entry) => entry, elsewhere);
    const nodes = Object.keys(keyNodes).filter((node) => !elsewhere.has(node));
    expect([...entered].sort()).toEqual(nodes.sort());
    expect(cases.length).toBe(nodes.flatMap((node) => keyNodes[node] ?? []).length);
  });

  it.each(cases.map((one) => [`${one.root}: ${one.node}.${one.row.name}`, one] as const))(
    '%s',
    (_, { root, row, text }) => {
      const { file, offset } = openAt({ [root === 'config' ? 'swaplore.yaml' : 'a.yaml']: text });
      const hover = hoverAt(file, offset)!;
      expect(file.tape.text.slice(hover.start, hover.end)).toBe(row.name);
      const shown = hoverPlainText(hover);
      expect(shown.startsWith(`${row.title} · \`${row.name}\``)).toBe(true);
      for (const words of [row.description, row.where, row.why, row.unit ?? '']) expect(shown).toContain(words);
      expect(hoverMarkdown(hover, (path) => path)).toContain('**');
    },
  );
});
