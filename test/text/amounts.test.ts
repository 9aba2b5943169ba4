import { describe, expect, it } from 'vitest';
import { byteSize } from '../../server/src/core/text/byte-size.ts';
import { inThousands } from '../../server/src/core/text/in-thousands.ts';

describe('inThousands', () => {
  it.each([
    [0, '0'],
    [999, '999'],
    [1000, '1,000'],
    [1_000_204_886_016, '1,000,204,886,016'],
    [123_456_789_012_345_680_000, '123,456,789,012,345,680,000'],
    [1234.5678, '1,234.5678'],
  ])('%d is %s', (count, text) => {
    expect(inThousands(count)).toBe(text);
  });
});

describe('byteSize', () => {
  it.each([
    [0, '0 bytes'],
    [999_999, '999,999 bytes'],
    [1_000_000, '1 MB'],
    [125_025_610_752, '125.03 GB'],
    [2_000_398_934_016, '2.0004 TB'],
    [2_400_000_000_000, '2.4 TB'],
  ])('%d is %s', (bytes, text) => {
    expect(byteSize(bytes)).toBe(text);
  });
});
