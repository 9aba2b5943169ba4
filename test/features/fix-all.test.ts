import { expect, it } from 'vitest';
import type { Fix } from '../../server/src/core/checks/fix.ts';
import { replaceIn } from '../../server/src/core/edits/text-edit.ts';
import { fixAll } from '../../server/src/core/features/fix-all.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';

function fix(intents: Fix['intents'], contentId = 'c'): Fix {
  return { title: 'Mend it', kind: 'fix', file: 'a.yaml', contentId, intents };
}

function mended(text: string, ...fixes: readonly Fix[]): string {
  return replaceIn(text, fixAll({ tape: readText(text).tape, contentId: 'c' }, fixes).edits);
}

const outer = fix([{ intent: 'rename', document: 0, path: ['hsot'], name: 'host' }]);
const inner = fix([{ intent: 'set', document: 0, path: ['hsot', 'port'], value: 'onboard' }]);

it('mends what lies in a key before the key itself', () => {
  expect(mended('hsot: {port: onbord} # c\n', outer, inner)).toBe('host: {port: onboard} # c\n');
});

it('leaves out what was found in another text, and what cannot be done beside the rest', () => {
  expect(mended('hsot: {port: onbord}\n', fix(inner.intents, 'd'))).toBe('hsot: {port: onbord}\n');
  expect(mended('hsot: {port: onbord}\nhost: {}\n', outer, inner)).toBe('hsot: {port: onboard}\nhost: {}\n');
});
