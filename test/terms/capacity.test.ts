import { describe, expect, it } from 'vitest';
import {
  exactBytes,
  fitsNominal,
  idemaSectors,
  isMismatch,
  isOtherSectors,
} from '../../server/src/core/terms/capacity.ts';

/**
 * GB, sectors of 512 bytes, bytes, sectors of 4,096 bytes.
 * Source: IDEMA LBA1-02 (formula, 80 GB = 156,301,488) and LBA1-03 (4,096 bytes); the rows recomputed from the formula with Python.
 */
const table = [
  [50, 97_696_368, 50_020_540_416, 12_212_046],
  [80, 156_301_488, 80_026_361_856, 19_537_686],
  [160, 312_581_808, 160_041_885_696, 39_072_726],
  [250, 488_397_168, 250_059_350_016, 61_049_646],
  [320, 625_142_448, 320_072_933_376, 78_142_806],
  [500, 976_773_168, 500_107_862_016, 122_096_646],
  [1000, 1_953_525_168, 1_000_204_886_016, 244_190_646],
  [2000, 3_907_029_168, 2_000_398_934_016, 488_378_646],
  [3000, 5_860_533_168, 3_000_592_982_016, 732_566_646],
  [4000, 7_814_037_168, 4_000_787_030_016, 976_754_646],
  [5000, 9_767_541_168, 5_000_981_078_016, 1_220_942_646],
  [8000, 15_628_053_168, 8_001_563_222_016, 1_953_506_646],
] as const;

describe('idemaSectors', () => {
  it.each(table)('%i GB', (gb, sectors512, bytes, sectors4096) => {
    expect(idemaSectors(gb, 512)).toBe(sectors512);
    expect(idemaSectors(gb, 4096)).toBe(sectors4096);
    expect(sectors512 * 512).toBe(bytes);
    expect(sectors4096 * 4096).toBe(bytes);
  });

  it.each([
    [49, 512],
    [8001, 512],
    [100.5, 512],
    [1000, 520],
  ])('covers neither %d GB with sectors of %d bytes', (gb, sector) => {
    expect(idemaSectors(gb, sector)).toBeUndefined();
  });
});

describe('fitsNominal', () => {
  /** Sizes off the formula. Source: logs of drives published by their owners, GB as sold and sectors of 512 bytes. */
  const published = [
    [40, 78_165_360],
    [60, 117_210_240],
    [250, 490_234_752],
    [300, 585_937_500],
    [147, 287_277_984],
    [5000, 9_767_475_632],
    [10_000, 19_532_873_728],
    [20_000, 39_063_650_304],
  ] as const;

  it.each(published)('lets a published drive of %i GB pass', (gb, sectors) => {
    expect(fitsNominal(sectors * 512, gb)).toBe(true);
  });

  it('allows 1 % or 1 GB, whichever is larger, and not a byte more', () => {
    expect(fitsNominal(1_010_000_000_000, 1000)).toBe(true);
    expect(fitsNominal(1_010_000_000_001, 1000)).toBe(false);
    expect(fitsNominal(990_000_000_000, 1000)).toBe(true);
    expect(fitsNominal(989_999_999_999, 1000)).toBe(false);
    expect(fitsNominal(41_000_000_000, 40)).toBe(true);
    expect(fitsNominal(41_000_000_001, 40)).toBe(false);
  });

  it('knows sectors of the other size', () => {
    expect(isOtherSectors(244_190_646 * 512, 1000)).toBe(true);
    expect(isOtherSectors(1_953_525_168 * 4096, 1000)).toBe(true);
    expect(isOtherSectors(250_059_350_016, 1000)).toBe(false);
  });
});

describe('isMismatch', () => {
  it('needs both sizes', () => {
    const facts = { lbaCount: 100, logicalSectorBytes: 512, nominalGb: 1000 };
    expect(isMismatch(facts)).toBe(true);
    expect(isMismatch({ ...facts, logicalSectorBytes: undefined })).toBe(false);
    expect(isMismatch({ ...facts, nominalGb: undefined })).toBe(false);
    expect(exactBytes({ ...facts, lbaCount: undefined })).toBeUndefined();
  });
});
