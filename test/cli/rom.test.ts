import { createHash } from 'node:crypto';
import { readFileSync, symlinkSync, truncateSync, writeFileSync } from 'node:fs';
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
    expect(swaplore(bench, ['rom', 'r/a.bin', 'r/worse.bin'])).toMatchInlineSnapshot(`
      "ROM images
      ==========

      The reads differ in 1 block: read again before writing anything.

      Clean the contacts, seat the clip anew, check the supply voltage and read more
      slowly, until two reads in a row agree.

      The images

      Read 1: \`r/a.bin\`
        64 KiB in 16 blocks of 4 KiB, 2 all FFh.
        SHA-256 \`04b25952da00975b487053312f288c05daca715a7a2474f2ba9e738e178295fe\`

      Read 2: \`r/worse.bin\`
        64 KiB in 16 blocks of 4 KiB, 2 all FFh.
        SHA-256 \`d54dd554d424b271ec529a266b6f5243ea44c7161c149dc87427ff0f3a6b93a6\`

      Where the reads differ

      Block at  Bytes  1 in read 1 only  1 in read 2 only  Blank in
      0x009000      1            5 bits            3 bits

      Block by block

      Read 1: entropy of each 4 KiB, what differs marked below
      0x000000  ████··██████████
                         ^
      ▁ to █ entropy up to 1 to 8 bits a byte, · all FFh, ^ differs

      Read 2: entropy of each 4 KiB, what differs marked below
      0x000000  ████··██████████
                         ^
      ▁ to █ entropy up to 1 to 8 bits a byte, · all FFh, ^ differs

      Before anything is written

      Read the ROM twice and compare before writing anything, check its supply voltage
      (1.8 V or 3.3 V) before clipping on, and keep the original chip and both images.

      A board that carries another drive's adaptives may write to the service area.
      Where the data is wanted, never try the donor's board with its own ROM first.

      An image of a ROM may hold the serial number of its drive. Keep it out of a
      shared repository unless the shop decided otherwise; its checksum says as well
      which image is meant.
      exit 1"
    `);
  });

  it('holds images against the records of a base, and shows serial numbers masked', () => {
    const args = ['rom', 'r/a.bin', 'r/b.bin', '--donor-now', 'r/now.bin', '--drive', 'd-0117'];
    const said = swaplore(bench, args);
    expect(said).toMatchInlineSnapshot(`
      "ROM images of \`d-0117\`
      ======================

      The donor's chip holds the image recorded for \`d-0118\`, not the patient's.

      Until the patient's image is on it, keep this board off the patient's drive.

      Also seen

      Good to know
        Both reads agree and hold 64 KiB; 2 of 16 blocks are blank, the others are
        not.
        Both reads are the image recorded for \`d-0117\`.

      The images

      Read 1: \`r/a.bin\`
        64 KiB in 16 blocks of 4 KiB, 2 all FFh.
        SHA-256 \`04b25952da00975b487053312f288c05daca715a7a2474f2ba9e738e178295fe\`

      Read 2: \`r/b.bin\`
        64 KiB in 16 blocks of 4 KiB, 2 all FFh.
        SHA-256 \`04b25952da00975b487053312f288c05daca715a7a2474f2ba9e738e178295fe\`

      Donor's chip: \`r/now.bin\`
        64 KiB in 16 blocks of 4 KiB, none blank.
        SHA-256 \`66d55ebcdbd6ee54652e64b9adddb439bd5ff20bf65f81c94681dd1caac35e8a\`

      Where the donor's chip differs

      Block at  Bytes  1 in the image only  1 in the chip only  Blank in
      0x000000   4083            8176 bits           8162 bits
      0x001000   4077            8287 bits           8297 bits
      0x002000   4085            8340 bits           7994 bits
      0x003000   4081            8341 bits           8217 bits
      0x004000   4083           16483 bits              0 bits  the image
      0x005000   4078           16290 bits              0 bits  the image
      0x006000   4076            8222 bits           8222 bits
      0x007000   4082            8113 bits           8218 bits
      0x008000   4083            8206 bits           8163 bits
      0x009000   4086            8190 bits           8115 bits
      0x00A000   4080            8268 bits           8203 bits
      0x00B000   4080            8075 bits           8296 bits
      0x00C000   4082            8149 bits           8169 bits
      0x00D000   4083            8226 bits           8168 bits
      0x00E000   4080            8233 bits           8192 bits
      0x00F000   4075            7979 bits           8319 bits

      Block by block

      Both reads: entropy of each 4 KiB
      0x000000  ████··██████████
      ▁ to █ entropy up to 1 to 8 bits a byte, · all FFh

      Donor's chip: entropy of each 4 KiB, what differs marked below
      0x000000  ████████████████
                ^^^^^^^^^^^^^^^^
      ▁ to █ entropy up to 1 to 8 bits a byte, ^ differs

      Where the drive's own numbers stand

      Both reads
        Serial number \`****4F2K\` with the bytes of each pair swapped: 0x000100.
        World-wide name \`50000e1000a04f2c\` in bytes, the first one first: 0x000200.

      Donor's chip
        Serial number \`****4F2K\` stands nowhere.
        World-wide name \`50000e1000a04f2c\` stands nowhere.

      Before anything is written

      Read the ROM twice and compare before writing anything, check its supply voltage
      (1.8 V or 3.3 V) before clipping on, and keep the original chip and both images.
      The ROM of this board is recorded with 1.8 V.

      A board that carries another drive's adaptives may write to the service area.
      Where the data is wanted, never try the donor's board with its own ROM first.

      An image of a ROM may hold the serial number of its drive. Keep it out of a
      shared repository unless the shop decided otherwise; its checksum says as well
      which image is meant.
      exit 1"
    `);
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
    const args = ['rom', 'r/a.bin', 'r/worse.bin', '--drive', 'd-0117', '--out'];
    expect(runCommand(folder, [...args, 'out/page.html']).stdout).toMatch(/\n\nWritten to out\/page.html\n$/);
    const html = readFileSync(join(folder, 'out/page.html'), 'utf8');
    const page = readPage(html);
    expect(page.errors).toEqual([]);
    expect(named(page, 'title')[0]?.text).toBe('ROM images of d-0117');
    expect(named(page, 'svg').map(({ attributes }) => attributes['role'])).toEqual(['img', 'img']);
    expect(named(page, 'rect').filter(({ attributes }) => attributes['class'] === 'alarm')).toHaveLength(2);
    expect(named(page, 'desc').map(({ text }) => text)[0]).toBe(
      '2 of 16 blocks of 4 KiB are blank. The others hold 7.95 bits of entropy a byte on average, of 8 at most. 1 block differs.',
    );
    expect(page.elements.filter(({ attributes }) => 'style' in attributes)).toEqual([]);
    expect(runCommand(folder, [...args, 'out/page.html']).code).toBe(1);
    expect(readFileSync(join(folder, 'out/page.html'), 'utf8')).toBe(html);
    expect(transcript(runCommand(folder, [...args, 'taken.html']))).toMatchInlineSnapshot(`
      "! swaplore: taken.html holds something else, so nothing was written.
      ! Name another place, or move what stands there.
      exit 2"
    `);
  });

  it('one file that stands for two, by whatever name', () => {
    const folder = folderOf(bench);
    symlinkSync('a.bin', join(folder, 'r/again.bin'));
    for (const args of [
      ['r/a.bin', 'r/a.bin'],
      ['r/a.bin', 'r/again.bin'],
      ['r/a.bin', '--donor-now', 'r/../r/a.bin'],
    ]) {
      const { stderr, code } = runCommand(folder, ['rom', ...args]);
      expect(code).toBe(2);
      expect(stderr).toContain('r/a.bin is given twice, and an image compared with itself shows nothing.');
    }
    // Two files that are alike are what is hoped for.
    expect(runCommand(folder, ['rom', 'r/a.bin', 'r/b.bin']).code).toBe(0);
  });

  it('says what it cannot read, and what is no image of a ROM', () => {
    const folder = folderOf(bench);
    writeFileSync(join(folder, 'disk.img'), '');
    truncateSync(join(folder, 'disk.img'), 2 ** 26 + 4_096);
    const runs = [['nowhere.bin'], ['r'], ['disk.img'], ['r/a.bin', '--drive', 'd-0171'], []];
    expect(runs.map((args) => transcript(runCommand(folder, ['rom', ...args]))).join('\n\n')).toMatchInlineSnapshot(`
      "! swaplore: nowhere.bin cannot be read: nothing is there.
      exit 2

      ! swaplore: r cannot be read: it is a folder.
      exit 2

      ! swaplore: disk.img holds 65,540 KiB, but an image of a ROM holds 64 MiB at most.
      ! A drive is compared with other programs; this command takes what was read from the chip on its board.
      exit 2

      ! swaplore: Drive \`d-0171\` is not recorded in this base; the nearest is \`d-0117\`.
      exit 2

      ! swaplore: rom needs READ1 [READ2].
      ! swaplore rom --help lists the options.
      exit 2"
    `);
  });
});
