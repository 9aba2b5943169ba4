import { createHash } from 'node:crypto';
import { readFileSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { named, readPage } from '../harness/read-page.ts';
import { bytesOf, noise, swappedIn, withAt } from '../harness/rom-bytes.ts';
import { folderOf, runCommand, swaplore, transcript } from '../harness/run-cli.ts';
import { ternBench } from '../harness/tern-bench.ts';

const serial = 'WRN0A4F2K';

/** 64 KiB with the serial number as IDENTIFY DEVICE spells it, the world-wide name, and a part that is erased. */
const image = [
  [0x100, swappedIn(bytesOf(serial.padEnd(20)), 2)],
  [0x200, Uint8Array.from(Buffer.from('50000e1000a04f2c', 'hex'))],
  [0x4000, new Uint8Array(0x2000).fill(0xff)],
].reduce((bytes, [at, part]) => withAt(bytes, Number(at), part as Uint8Array), noise(65_536, 5));
const worse = withAt(image, 0x9123, [~(image[0x9123] ?? 0) & 0xff]);
const other = noise(65_536, 9);

const sumOf = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

const bench = {
  ...ternBench,
  'boards/w100.yaml': `kind: board
id: w100
maker: wren
part_number: W100
revisions: [{rev: A, roms: [{bytes: 65536, volts: 1.8, holds: [adaptives]}]}]
`,
  'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
serial: ${serial}
wwn: 50000e1000a04f2c
board: {id: w100, rev: A}
rom_image: {sha256: ${sumOf(image)}}
---
kind: drive
id: d-0118
family: tern-2
serial: "****9Q1C"
rom_image: {sha256: ${sumOf(other)}}
`,
  'r/a.bin': image,
  'r/b.bin': image,
  'r/worse.bin': worse,
  'r/now.bin': other,
};

describe('swaplore rom', () => {
  it('says that reads differ, and where', () => {
    expect(swaplore(bench, ['rom', 'r/a.bin', 'r/worse.bin'])).toMatchInlineSnapshot();
  });

  it('holds images against the records of a base, and shows serial numbers masked', () => {
    const args = ['rom', 'r/a.bin', 'r/b.bin', '--donor-now', 'r/now.bin', '--drive', 'd-0117'];
    const said = swaplore(bench, args);
    expect(said).toMatchInlineSnapshot();
    expect(said).not.toContain(serial);
    const data = runCommand(folderOf(bench), [...args, '--json']).stdout;
    expect(data).not.toContain(serial);
  });

  it('says that it cannot look for a masked serial number', () => {
    const said = swaplore(bench, ['rom', 'r/now.bin', '--drive', 'd-0118']);
    expect(said).toContain('The serial number of `d-0118` is recorded masked or as a digest, so nobody can');
    expect(said).toContain('exit 0');
  });

  it('shows serial numbers where the shop keeps them', () => {
    const full = { ...bench, 'swaplore.yaml': 'swaplore: 1\nserials: full\n' };
    expect(swaplore(full, ['rom', 'r/a.bin', '--drive', 'd-0117'])).toContain(
      `Serial number \`${serial}\` with the bytes of each pair swapped: 0x000100.`,
    );
  });

  it('gives the same as data', () => {
    const folder = folderOf(bench);
    const { stdout, code } = runCommand(folder, ['rom', 'r/a.bin', 'r/worse.bin', '--drive', 'd-0117', '--json']);
    const { verdict, images, reads, drive } = JSON.parse(stdout);
    expect(code).toBe(1);
    expect(verdict).toMatchObject({ case: 'reads_differ', severity: 'error' });
    expect(reads).toMatchObject({ equal: false, blocks: [{ block: 9, bytes: 1 }] });
    expect(drive).toMatchObject({ id: 'd-0117', serial: '****4F2K', chip: { bytes: 65_536, volts: 1.8 } });
    expect(images.read1).toMatchObject({
      file: 'r/a.bin',
      sha256: sumOf(image),
      recordedFor: ['d-0117'],
      serial: [{ spelling: 'swapped_pairs', at: [0x100], count: 1 }],
      wwn: [{ spelling: 'big_endian', at: [0x200], count: 1 }],
      blankBlocks: { ff: [4, 5], zero: [] },
    });
    expect(images.read1.blockEntropy).toHaveLength(16);
  });

  it('writes a page that stands by itself, and never over something else', () => {
    const folder = folderOf({ ...bench, 'taken.html': 'mine' });
    const args = ['rom', 'r/a.bin', 'r/worse.bin', '--out'];
    expect(runCommand(folder, [...args, 'out/page.html']).stdout).toMatch(/\n\nWritten to out\/page.html\n$/);
    const html = readFileSync(join(folder, 'out/page.html'), 'utf8');
    const page = readPage(html);
    expect(page.errors).toEqual([]);
    expect(named(page, 'svg').map(({ attributes }) => attributes['role'])).toEqual(['img', 'img']);
    expect(named(page, 'rect').filter(({ attributes }) => attributes['class'] === 'alarm')).toHaveLength(2);
    expect(named(page, 'desc').map(({ text }) => text)[0]).toBe(
      '2 of 16 blocks of 4 KiB are blank. The others hold 7.95 bits of entropy a byte on average, of 8 at most. 1 block differs.',
    );
    expect(page.elements.filter(({ attributes }) => 'style' in attributes)).toEqual([]);
    expect(runCommand(folder, [...args, 'out/page.html']).code).toBe(1);
    expect(readFileSync(join(folder, 'out/page.html'), 'utf8')).toBe(html);
    expect(transcript(runCommand(folder, [...args, 'taken.html']))).toMatchInlineSnapshot();
  });

  it('says what it cannot read, and what is no image of a ROM', () => {
    const folder = folderOf(bench);
    writeFileSync(join(folder, 'disk.img'), '');
    truncateSync(join(folder, 'disk.img'), 2 ** 26 + 4_096);
    const runs = [['nowhere.bin'], ['r'], ['disk.img'], ['r/a.bin', '--drive', 'd-0171'], []];
    expect(runs.map((args) => transcript(runCommand(folder, ['rom', ...args]))).join('\n\n')).toMatchInlineSnapshot();
  });
});
