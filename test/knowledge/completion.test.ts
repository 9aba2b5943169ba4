import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { completionContext } from '../../server/src/core/features/completion-context.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { judgeFile, type Typeable } from '../harness/completion-judge.ts';

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
