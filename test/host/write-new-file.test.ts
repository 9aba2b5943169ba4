import type * as Fs from 'node:fs';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { writeNewFile } from '../../server/src/host/disk/write-new-file.ts';
import { reasonOf } from '../../server/src/host/system-reason.ts';
import { folderOf } from '../harness/run-cli.ts';

/** How many bytes still fit on the disk. */
const disk = vi.hoisted(() => ({ bytesLeft: Number.POSITIVE_INFINITY }));

vi.mock('node:fs', async (importOriginal) => {
  const fs = await importOriginal<typeof Fs>();
  return {
    ...fs,
    writeFileSync: (path: string, text: string, options: Fs.WriteFileOptions) => {
      fs.writeFileSync(path, text.slice(0, disk.bytesLeft), options);
      if (text.length > disk.bytesLeft) throw Object.assign(new Error('ENOSPC'), { code: 'ENOSPC' });
    },
  };
});

beforeEach(() => {
  disk.bytesLeft = Number.POSITIVE_INFINITY;
});

describe('a new file', () => {
  it('is written whole, its folder with it', () => {
    const folder = folderOf({});
    expect(writeNewFile(join(folder, 'outcomes', 'one.yaml'), 'kind: outcome\n')).toBe(true);
    expect(readFileSync(join(folder, 'outcomes', 'one.yaml'), 'utf8')).toBe('kind: outcome\n');
    expect(readdirSync(join(folder, 'outcomes'))).toEqual(['one.yaml']);
  });

  it('is not written where there is one already', () => {
    const folder = folderOf({ 'one.yaml': 'mine\n' });
    expect(writeNewFile(join(folder, 'one.yaml'), 'kind: outcome\n')).toBe(false);
    expect(readFileSync(join(folder, 'one.yaml'), 'utf8')).toBe('mine\n');
    expect(readdirSync(folder)).toEqual(['one.yaml']);
  });

  it('leaves no half behind on a full disk', () => {
    const folder = folderOf({});
    disk.bytesLeft = 5;
    let reason = '';
    try {
      writeNewFile(join(folder, 'one.yaml'), 'kind: outcome\n');
    } catch (error) {
      reason = reasonOf(error);
    }
    expect(reason).toBe('no space is left on the disk');
    expect(readdirSync(folder)).toEqual([]);
  });

  it('is the first where several are made', () => {
    const folder = folderOf({});
    const made = ['a', 'b', 'c'].map((text) => writeNewFile(join(folder, 'one.yaml'), text));
    expect(made).toEqual([true, false, false]);
    expect(readFileSync(join(folder, 'one.yaml'), 'utf8')).toBe('a');
  });
});
