import { describe, expect, it } from 'vitest';
import { isFullSerial, isSameSerial } from '../../server/src/core/terms/same-serial.ts';

describe('isSameSerial', () => {
  it.each([
    ['****4F2K', '****4F2K', true],
    ['****4F2K', '****4f2k', true],
    ['****4F2K', '****9Q1C', false],
    ['****4F2K', '****F2K', true],
    ['****4F2K', '****F2J', false],
    ['****4F2K', 'WRN00034F2K', true],
    ['WRN00034F2K', '****4F2K', true],
    ['****4F2K', 'WRN00034F2J', false],
    ['WRN00034F2K', 'wrn00034f2k ', true],
    ['WRN00034F2K', 'WRN00034F2J', false],
    ['digest:5d1c9a0377be42f1', 'digest:5D1C9A0377BE42F1', true],
    ['digest:5d1c9a0377be42f1', 'digest:5d1c9a0377be42f1aabb', true],
    ['digest:5d1c9a0377be42f1', 'digest:0d1c9a0377be42f1', false],
    ['digest:5d1c9a0377be42f1', '****42f1', undefined],
    ['WRN00034F2K', 'digest:5d1c9a0377be42f1', undefined],
  ])('%s and %s', (a, b, expected) => {
    expect(isSameSerial(a, b)).toBe(expected);
    expect(isSameSerial(b, a)).toBe(expected);
  });

  it('knows a full number', () => {
    expect(['****4F2K', 'digest:5d1c9a0377be42f1', 'WRN00034F2K'].map(isFullSerial)).toEqual([false, false, true]);
  });
});
