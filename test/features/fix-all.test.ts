import { expect, it } from 'vitest';
import { checkFresh, type TextFiles, textsAfterFixAll } from '../harness/checked-files.ts';

function mended(text: string, others: TextFiles = {}): string | undefined {
  return textsAfterFixAll(checkFresh({ ...others, 'a.yaml': text }), 'a.yaml')['a.yaml'];
}

it('mends all that brings nothing new', () => {
  expect(mended('kind: maker\nid: wren\nname: 0040 # as printed\nouuis: [00-00-5E]\n')).toBe(
    'kind: maker\nid: wren\nname: "0040" # as printed\nouis: [00-00-5E]\n',
  );
});

it('leaves alone what would bring another finding', () => {
  const text = 'kind: maker\nid: wren\nname: Wren\nouuis: [0000]\nnoets: a\n';
  expect(mended(text)).toBe(text.replace('noets', 'notes'));
});

it('leaves alone what two keys are meant for', () => {
  const text = 'kind: maker\nid: wren\nname: Wren\nnoets: a\nnots: b\n';
  expect(mended(text)).toBe(text.replace('noets', 'notes'));
});

it('leaves alone what has to be asked for', () => {
  const text = 'kind: maker\nid: wren\nname: Wren\nbinder: 4\nnoets: a\n';
  expect(mended(text)).toBe(text.replace('noets', 'notes'));
});
