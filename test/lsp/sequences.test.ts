/** What an editor is shown after a sequence of changes is what it would be shown had it begun with their outcome. */

import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { afterAll, expect, it } from 'vitest';
import { configPath } from '../../server/src/core/checks/config-invalid.ts';
import { damageText } from '../harness/arbitrary-damage.ts';
import { arbitraryBaseToMend, arbitraryStep, pathIn, type Step } from '../harness/arbitrary-sequence.ts';
import { misspelt } from '../harness/arbitrary-typos.ts';
import type { TextFiles } from '../harness/checked-files.ts';
import { connectInMemory } from './harness/connections.ts';
import { Editor } from './harness/editor.ts';

const samples = fc.sample(fc.tuple(arbitraryBaseToMend, fc.array(arbitraryStep, { minLength: 3, maxLength: 8 })), {
  numRuns: 50,
  seed: 20260314,
});

/** How often a step changed something. */
const changed = new Map<Step['does'], number>();

async function take(step: Step, editor: Editor, before: TextFiles): Promise<void> {
  const { texts } = editor;
  const path = pathIn(texts, 'file' in step ? step.file : 'record' in step ? step.record : 0);
  if (path === undefined) return;
  const text = texts[path]!;
  switch (step.does) {
    case 'type':
      return editor.type(path, damageText(text, step.damage));
    case 'misspell':
      return editor.type(path, misspelt(text, step.typo));
    case 'undo':
      for (const [one, was] of Object.entries(before)) if (texts[one] !== was) await editor.type(one, was);
      return;
    case 'act': {
      const actions = await editor.offered(path, ['refactor']);
      return editor.apply(actions[step.pick % Math.max(actions.length, 1)]?.edit ?? {});
    }
    case 'remedy': {
      const offered = (await Promise.all(Object.keys(texts).map((one) => editor.offered(one)))).flat();
      const actions = step.isSure ? offered.filter(({ isPreferred }) => isPreferred) : offered;
      return editor.apply(actions[step.pick % Math.max(actions.length, 1)]?.edit ?? {});
    }
    case 'fix all':
      for (const { edit } of await editor.offered(path, ['source.fixAll'])) await editor.apply(edit ?? {});
      return;
    case 'rename': {
      const ids = [...text.matchAll(/^id: (?=\S)/gm)];
      const at = ids[step.record % Math.max(ids.length, 1)];
      if (at) await editor.rename(path, at.index + at[0].length, step.newId);
      return;
    }
    case 'format':
      return editor.format(path);
    case 'remove':
      // Emptied: an editor that has a file open goes on showing it.
      return editor.type(path, '');
  }
}

it.each(samples.map(([files, steps], at) => ({ at, files, steps })))('in sequence $at', async ({ files, steps }) => {
  const editor = await Editor.of(connectInMemory, { [configPath]: 'swaplore: 1\n', ...files });
  const history = [editor.texts];
  for (const step of steps) {
    const before = history.at(-2) ?? history[0]!;
    const now = editor.texts;
    await take(step, editor, before);
    if (isDeepStrictEqual(editor.texts, now)) continue;
    changed.set(step.does, (changed.get(step.does) ?? 0) + 1);
    if (step.does === 'undo') history.pop();
    else history.push(editor.texts);
  }
  const fresh = await Editor.of(connectInMemory, editor.texts);
  // Asking for what would be done waits until everything is checked.
  const [path] = Object.keys(editor.texts);
  for (const one of [editor, fresh]) await one.offered(path!, ['source.fixAll']);
  expect(editor.client.diagnostics).toEqual(fresh.client.diagnostics);
});

afterAll(() => {
  expect([...changed.keys()].sort()).toEqual([
    'act',
    'fix all',
    'format',
    'misspell',
    'remedy',
    'remove',
    'rename',
    'type',
    'undo',
  ]);
});
