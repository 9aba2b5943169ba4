import { lstatSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { contentIdOf } from '../../server/src/host/content-id.ts';
import { writeEdits } from '../../server/src/host/disk/write-edits.ts';
import { folderOf } from '../harness/run-cli.ts';

const text = 'kind: drive\nid: d-1\n';
const edits = {
  file: 'one.yaml',
  contentId: contentIdOf(new TextEncoder().encode(text)),
  edits: [{ start: 16, end: 19, text: 'd-2' }],
};

describe('edits of a file on a disk', () => {
  it('are written whole, and nothing is left beside them', () => {
    const folder = folderOf({ 'one.yaml': text });
    expect(writeEdits(folder, edits)).toBeUndefined();
    expect(readFileSync(join(folder, 'one.yaml'), 'utf8')).toBe('kind: drive\nid: d-2\n');
    expect(readdirSync(folder)).toEqual(['one.yaml']);
  });

  it('are refused where the file has changed, is gone, or is a link', () => {
    const folder = folderOf({ 'one.yaml': text, 'other.yaml': text });
    writeFileSync(join(folder, 'one.yaml'), `${text}family: tern\n`);
    expect(writeEdits(folder, edits)).toEqual({ refused: 'The file has changed since this edit was made.' });
    expect(readFileSync(join(folder, 'one.yaml'), 'utf8')).toBe(`${text}family: tern\n`);
    expect(writeEdits(folder, { ...edits, file: 'two.yaml' })).toMatchObject({
      refused: expect.stringContaining('cannot be read'),
    });
    symlinkSync('other.yaml', join(folder, 'link.yaml'));
    expect(writeEdits(folder, { ...edits, file: 'link.yaml' })).toMatchObject({
      refused: expect.stringContaining('link'),
    });
    expect(lstatSync(join(folder, 'link.yaml')).isSymbolicLink()).toBe(true);
    expect(readFileSync(join(folder, 'other.yaml'), 'utf8')).toBe(text);
  });
});
