import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { mergeTexts } from '../../server/src/core/text/merge-texts.ts';

it('refuses changes of the same line, of neighbouring ones, and too many', () => {
  expect(mergeTexts('a\nb\nc\n', 'x\nb\nc\n', 'y\nb\nc\n')).toBeUndefined();
  expect(mergeTexts('a\nb\nc\n', 'x\nb\nc\n', 'a\ny\nc\n')).toBeUndefined();
  expect(mergeTexts('a\nb\nc\n', 'x\nb\nc\n', 'a\nb\ny\n')).toBe('x\nb\ny\n');
  expect(mergeTexts('a\n', 'a\nb\n', 'a\nc\n')).toBeUndefined();
  const many = Array.from({ length: 1100 }, (_, line) => `${line}\n`);
  const other = many.map((line) => `x${line}`).join('');
  expect(mergeTexts(many.join(''), other, `${many.join('')}end\n`)).toBeUndefined();
});

it('merges what git merges, and as git does, where all lines differ', () => {
  const folder = mkdtempSync(join(tmpdir(), 'swaplore-merge-'));
  const path = (name: string): string => join(folder, name);
  const merged = (old: string, a: string, b: string): string | undefined => {
    for (const [name, text] of Object.entries({ old, a, b })) writeFileSync(path(name), text);
    try {
      return execFileSync('git', ['merge-file', '-p', path('a'), path('old'), path('b')], {
        encoding: 'utf8',
        stdio: 'pipe',
      });
    } catch {
      return undefined;
    }
  };
  const lines = Array.from({ length: 9 }, (_, line) => `line ${line}`);
  // One side may leave lines out and change others; new lines differ from side to side.
  const arbitrarySide = (mark: string) =>
    fc
      .array(fc.constantFrom('kept', 'kept', 'kept', 'changed', 'gone'), { minLength: 9, maxLength: 9 })
      .map((fates) =>
        fates
          .flatMap((fate, line) =>
            fate === 'gone' ? [] : [fate === 'kept' ? `${lines[line]}\n` : `${mark} ${line}\n`],
          )
          .join(''),
      );
  const samples = fc.sample(fc.tuple(arbitrarySide('a'), arbitrarySide('b')), { numRuns: 60, seed: 20260314 });
  const old = lines.map((line) => `${line}\n`).join('');
  let clean = 0;
  for (const [a, b] of samples) {
    const expected = merged(old, a, b);
    if (expected !== undefined) clean++;
    expect(mergeTexts(old, a, b), JSON.stringify([a, b])).toBe(expected);
  }
  rmSync(folder, { recursive: true });
  expect(clean).toBeGreaterThan(3);
});
