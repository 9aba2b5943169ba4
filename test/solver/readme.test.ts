import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { Effort } from '../../server/src/core/solver/effort.ts';
import { minimalCore } from '../../server/src/core/solver/minimal-core.ts';
import { Solver } from '../../server/src/core/solver/solver.ts';
import * as terms from '../../server/src/core/solver/terms.ts';

const readme = readFileSync(new URL('../../server/src/core/solver/README.md', import.meta.url), 'utf8');
const examples = [...readme.matchAll(/```js\n(.*?)```/gs)].map(([, code = '']) => code);
const names = { ...terms, Effort, Solver, minimalCore };

/** Runs an example; each line with `// =>` gives what it gives beside what it should. */
function run(code: string): [string, unknown, unknown][] {
  const seen: [string, unknown, unknown][] = [];
  const note = (line: string, value: unknown, expected: string): void => {
    seen.push([line, value, JSON.parse(expected)]);
  };
  const body = code.replaceAll(/^(.*\S); \/\/ => (.*)$/gm, (_, line: string, expected: string) => {
    return `note(${JSON.stringify(line)}, ${line}, ${JSON.stringify(expected)});`;
  });
  new Function('note', ...Object.keys(names), body)(note, ...Object.values(names));
  return seen;
}

it('has examples', () => {
  expect(examples.length).toBeGreaterThan(5);
});

it.each(examples)('%s', (code) => {
  const seen = run(code);
  expect(seen.length).toBeGreaterThan(0);
  for (const [line, value, expected] of seen) expect(value, line).toEqual(expected);
});
