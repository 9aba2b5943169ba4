import { describe, expect, it } from 'vitest';
import { type VerifyFigures, verifyFigures } from '../../server/src/core/verdicts/verify-figures.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';
import { type SwapBase, swapBase } from '../harness/swap-base.ts';

const terabyte = { family: 'sector_bytes: {logical: 512, physical: 512}', patient: 'capacity_gb: 1000' };

function figuresOf(rows: string, parts: SwapBase = terabyte): VerifyFigures {
  const snapshot = snapshotOf(swapBase({ ...parts, outcome: `verify: [${rows}]` }));
  const [outcome] = snapshot.records('outcome');
  return verifyFigures(outcome!, snapshot);
}

describe('the bound on what is unreadable', () => {
  const blocksOf = (rows: string, parts?: SwapBase): number | undefined => figuresOf(rows, parts).bound?.blocks;

  it.each([
    ['where: whole', 1000],
    ['where: spread', 1000],
    ['where: spread, passes: 4', 250],
    ['where: start', undefined],
    ['where: files', undefined],
    ['minutes: 1', undefined],
    ['where: somewhere', undefined],
    ['where: spread, passes: 0', undefined],
  ])('with %s rests on %s blocks of 512000 bytes', (text, blocks) => {
    expect(blocksOf(`{method: read_pass, bytes: 512000, errors: 0, ${text}}`)).toBe(blocks);
  });

  it('takes physical sectors, and large ones where nobody recorded their size', () => {
    const row = '{method: read_pass, bytes: 40960, errors: 0, where: spread}';
    expect(blocksOf(row, { ...terabyte, family: 'sector_bytes: {logical: 512, physical: 4096}' })).toBe(10);
    expect(blocksOf(row, { ...terabyte, family: 'sector_bytes: {logical: 512}' })).toBe(10);
    expect(blocksOf(row)).toBe(80);
  });

  it.each([
    ['a row that does not say how many errors', '{method: hash_compare, bytes: 512000, where: whole}'],
    ['a mount', '{method: mount_only, bytes: 512000, errors: 0, where: whole}'],
    ['less than a block', '{method: hash_compare, bytes: 511, errors: 0, where: whole}'],
    ['more bytes than the patient holds', '{method: hash_compare, bytes: 1020000000000, errors: 0, where: whole}'],
  ])('is none for %s', (_, row) => {
    expect(blocksOf(row)).toBeUndefined();
  });

  it('is that of the row with most blocks, since rows may have gone over the same ones, and none beside errors', () => {
    const row = (bytes: number): string => `{method: read_pass, bytes: ${bytes}, errors: 0, where: spread}`;
    expect(blocksOf(`${row(5120)}, ${row(51200)}, ${row(512)}`)).toBe(100);
    const withErrors = figuresOf(`${row(5120)}, {method: read_pass, bytes: 512, errors: 1, where: files}`);
    expect(withErrors.bound).toBeUndefined();
    expect(withErrors.rows[0]?.bound?.blocks).toBe(10);
  });
});

describe('the time of a full pass', () => {
  it('follows from the pace of a row, and of all that compare together', () => {
    const figures = figuresOf(
      '{method: hash_compare, bytes: 60000000000, minutes: 10}, {method: checksum_scrub, bytes: 20000000000, minutes: 10}, {method: read_pass, bytes: 120000000000, minutes: 10}',
    );
    expect(figures.rows.map(({ bytesPerSecond }) => bytesPerSecond)).toEqual([1e8, 1e8 / 3, 2e8]);
    expect(figures.rows.map(({ fullPassMinutes }) => Math.round(fullPassMinutes ?? 0))).toEqual([167, 500, 83]);
    expect(figures.fullPassMinutes).toBe(250);
  });

  it('counts all passes, as the bytes do', () => {
    const figures = figuresOf('{method: hash_compare, bytes: 60000000000, passes: 3, minutes: 10}');
    expect(figures.rows[0]?.bytesPerSecond).toBe(1e8);
  });

  it.each([
    '{method: hash_compare, bytes: 60000000000}',
    '{method: hash_compare, minutes: 10}',
    '{method: hash_compare, bytes: 60000000000, minutes: 0}',
    '{method: mount_only, bytes: 60000000000, minutes: 10}',
  ])('is not known from %s', (row) => {
    expect(figuresOf(row).fullPassMinutes).toBeUndefined();
    expect(figuresOf(row).rows[0]?.bytesPerSecond).toBeUndefined();
  });

  it('is not known of a drive whose size is not', () => {
    const { rows, fullPassMinutes } = figuresOf('{method: hash_compare, bytes: 60000000000, minutes: 10}', {});
    expect(rows[0]?.bytesPerSecond).toBe(1e8);
    expect([rows[0]?.fullPassMinutes, fullPassMinutes]).toEqual([undefined, undefined]);
  });
});
