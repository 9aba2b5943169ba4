import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it, vi } from 'vitest';
import { readFileFacts } from '../../server/src/core/model/file-facts.ts';
import { type GeneratedFile, makeBase, toBaseFile } from '../bench/base/make-base.ts';
import { sizes } from '../bench/base/sizes.ts';
import { readsAlike } from '../harness/agreeing-readers.ts';

const knowledge = fileURLToPath(new URL('../../knowledge', import.meta.url));

// What it gives up on costs a second reading, forty times as slow: bases as people write them must not pay that.
describe('the fast reader reads, exactly as the recovering one does,', () => {
  it('every file of the demo base', () => {
    const paths = readdirSync(knowledge, { recursive: true, encoding: 'utf8' }).filter((path) =>
      path.endsWith('.yaml'),
    );
    expect(paths.length).toBeGreaterThan(100);
    expect(paths.filter((path) => !readsAlike(readFileSync(join(knowledge, path), 'utf8')))).toEqual([]);
  });

  it('every file of a generated base of 24,000', { timeout: 300_000 }, () => {
    const files = makeBase(sizes.L, '1').files;
    expect(files.length).toBe(24_000);
    const isRead = (file: GeneratedFile): boolean => readsAlike(toBaseFile(file).text);
    expect(files.filter((file) => !isRead(file)).map(({ path }) => path)).toEqual([]);
  });
});

/** What people do in files by hand, and whether the fast reader reads it. */
const byHand: readonly (readonly [what: string, text: string, isRead: boolean])[] = [
  ['a quoted text over several lines', "a: \"x\n  y\n\n  z \"\nb: 'it''s\n  so'\n", true],
  ['a quoted text that goes on at the indent of its key', 'a: "x\ny"\n', false],
  ['escapes that JSON knows', 'a: "say \\"x\\" \\\\ \\/ \\n\\t"\n', true],
  ['other escapes', 'a: "\\u00e9"\n', false],
  ['a backslash at the end of a line', 'a: "x\\\n  y"\n', false],
  ['a quoted text over several lines between brackets', 'a: ["x\n  y", z]\n', true],
  ['comments between brackets', 'a: [ # first\n  x, # second\n  # third\n  y # last\n]\n', true],
  ['a comment right behind a comma', 'a: [x,# y\n  z]\n', false],
  ['the last bracket at the indent of the key', 'a: [\n  [x],\n  y\n]\n', true],
  ['an inner bracket at the indent of the key', 'a: [[x\n], y]\n', false],
  ['blank lines with a few spaces in a block text', 'a: |\n  x\n \n  y\n  \nb: 1\n', true],
  ['blank lines with more spaces than its indent in a block text', 'a: |\n  x\n   \n  y\n', false],
  ['a plain text on the line below its key', 'a:\n  x\nb:\n  - y\n', true],
  ['a plain text below a comment below its key', 'a:\n# note\n  x\nb: y\n', false],
  ['lists in lists on one line', 'a:\n  - - x\n    - y\n  - - - z\n', true],
];

describe('of what people do by hand the fast reader reads, or leaves', () => {
  it.each(byHand)('%s', (_, text, isRead) => {
    expect(readsAlike(text)).toBe(isRead);
    expect(readsAlike(text.replaceAll('\n', '\r\n'))).toBe(isRead);
  });
});

describe('who reads the facts of a file', () => {
  const encode = (text: string): Uint8Array => new TextEncoder().encode(text);

  it.each([
    ['kind: drive\nid: d-1\nrev: B\n', 0],
    ['kind: drive\nid: d-1\nrev: &r B\n', 1],
    ['kind: drive\nid: d-1\nrev: [B\n', 1],
  ])('is told whether the fast reader gave up: %j', (text, times) => {
    const onGiveUp = vi.fn();
    expect(readFileFacts(encode(text), onGiveUp)).toEqual(readFileFacts(encode(text)));
    expect(onGiveUp).toHaveBeenCalledTimes(times);
  });
});
