import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { completionsAt } from '../../server/src/core/features/completion.ts';
import { completionContext } from '../../server/src/core/features/completion-context.ts';
import { findCursor } from '../../server/src/core/features/cursor.ts';
import type { KeyRow } from '../../server/src/core/schema/key-rows.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { judgeFile, type Typeable } from '../harness/completion-judge.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';

const root = fileURLToPath(new URL('../../knowledge/', import.meta.url));

const files = readdirSync(root, { recursive: true, encoding: 'utf8' })
  .filter((path) => path.endsWith('.yaml'))
  .sort()
  .map((path) => ({ path: path.split('\\').join('/'), text: readFileSync(`${root}${path}`, 'utf8') }));

/** A text to type in, with the cursor in it. */
interface Typing {
  readonly text: string;
  readonly offset: number;
}

/** How a file looks while it is typed, of a whole file with the cursor at an offset; undefined where the way does not apply. */
type Way = (text: string, offset: number) => Typing | undefined;

/** Every how many offsets a way is tried. */
const ways: Readonly<Record<string, { readonly every: number; readonly way: Way }>> = {
  'cut off behind the cursor': { every: 1, way: (text, offset) => ({ text: text.slice(0, offset), offset }) },
  'with the rest of the file': { every: 5, way: (text, offset) => ({ text, offset }) },
  'with a value above broken off': { every: 5, way: breakAbove },
};

/** Cuts the nearest value that stands with its key on a line above in half, brackets and quotes included. */
function breakAbove(text: string, offset: number): Typing | undefined {
  const lineStart = text.lastIndexOf('\n', offset - 1) + 1;
  const above = [...text.slice(0, lineStart).matchAll(/^[ -]*\w+: (?![|>])(.*)\n/gm)].at(-1);
  const value = above?.[1] ?? '';
  // A kind or a place in a document that is gone cannot be known.
  if (!above || above[0].startsWith('kind') || value.length < 2) return undefined;
  const end = above.index + above[0].length - 1;
  const cut = Math.ceil(value.length / 2);
  return { text: text.slice(0, end - cut) + text.slice(end), offset: offset - cut };
}

function saidOf(path: string, { text, offset }: Typing): Typeable {
  const context = completionContext({ path, text }, offset);
  return context ? { side: context.side, path: context.path } : 'nothing';
}

function shown(typeable: Typeable): string {
  return typeable === 'nothing' ? typeable : `${typeable.side} at /${typeable.path.join('/')}`;
}

it.each(Object.entries(ways))('sees what is being typed in the demo base: %s', (name, { every, way }) => {
  let right = 0;
  let all = 0;
  const missed: string[] = [];
  for (const { path, text } of files) {
    for (const [offset, expected] of judgeFile(readText(text).tape).entries()) {
      const typing = offset % every === 0 ? way(text, offset) : undefined;
      if (!typing) continue;
      // Offsets that cannot be judged must not make it throw either.
      const said = saidOf(path, typing);
      if (expected === undefined) continue;
      all++;
      if (shown(said) === shown(expected)) right++;
      else missed.push(`${path}:${offset}: ${shown(said)}, not ${shown(expected)}`);
    }
  }
  console.log(`completion context right at ${((100 * right) / all).toFixed(2)} % of ${all} offsets, ${name}`);
  expect(right / all, missed.slice(0, 20).join('\n')).toBeGreaterThanOrEqual(0.95);
});

/** Whether what a key may hold is known beforehand: a choice, or a record's id. */
function isChosen(row: KeyRow | undefined): boolean {
  return row !== undefined && (row.values !== undefined || row.type === 'boolean' || row.refersTo !== undefined);
}

it('offers every key, choice and id of the demo base at the place where it was typed', () => {
  const snapshot = snapshotOf(Object.fromEntries(files.map(({ path, text }) => [path, text])));
  const missing: string[] = [];
  let seen = 0;
  for (const { path, text } of files) {
    const { tape } = readText(text);
    for (const { kind, keyStart, start } of tape.entries) {
      for (const at of [keyStart, kind === 'plain' || kind === 'quoted' ? start : -1]) {
        const cursor = at < 0 ? undefined : findCursor({ path, tape }, at);
        // A word typed a letter deep, with all that follows cut off.
        if (!cursor?.row || (cursor.side === 'value' && !isChosen(cursor.row))) continue;
        const cut = text.slice(0, at + (kind === 'quoted' && at === start ? 2 : 1));
        // None of these rest on the tape, which a text cut off like this has little of.
        const file = { path, tape: { text: cut, entries: [], documents: [] }, snapshot, isIndexed: true };
        const labels = completionsAt(file, cut.length, { hasSnippets: true })?.items.map(({ label }) => label) ?? [];
        const wanted = cursor.side === 'key' ? (cursor.entry.key ?? '') : cursor.entry.text;
        seen++;
        if (!labels.includes(wanted)) missing.push(`${path}:${at}: ${wanted} is not among ${labels.join(' ')}`);
      }
    }
  }
  expect(missing).toEqual([]);
  expect(seen).toBeGreaterThan(4000);
});
