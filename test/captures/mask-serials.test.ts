import { describe, expect, it } from 'vitest';
import { maskSerials, recordedSerials, serialCover } from '../../server/src/core/captures/mask-serials.ts';

const serial = 'WRN0A4F2K';
const other = 'WRN0B9Q1C';

it.each<readonly [unknown, readonly string[]]>([
  [serial, []],
  [17, []],
  [null, []],
  [{ serial }, [serial]],
  [{ serial: 17 }, []],
  [{ serial: [serial] }, []],
  [{ serial: { serial } }, [serial]],
  [{ model: serial }, []],
  [
    [{ serial }, [{ a: { serial: '****9Q1C' } }]],
    [serial, '****9Q1C'],
  ],
])('the serial numbers recorded in %j', (value, serials) => {
  expect(recordedSerials(value)).toEqual(serials);
});

describe('masking', () => {
  it('leaves everything as it is where numbers are written in full, or there is none', () => {
    const value = { serial, sha256: 'ab' };
    expect(maskSerials(value, 'full')).toBe(value);
    const masked = { serial: '****4F2K', sha256: 'ab', text: serial };
    expect(maskSerials(masked, 'masked')).toBe(masked);
    const digest = { serial: 'digest:00ff00ff00ff00ff', sha256: 'ab' };
    expect(maskSerials(digest, 'masked')).toBe(digest);
    const nothing = { serial: '  ', sha256: 'ab' };
    expect(maskSerials(nothing, 'masked')).toBe(nothing);
  });

  it('covers numbers wherever they stand, other spellings by stars', () => {
    expect(
      maskSerials(
        {
          serial,
          model: `TERN ${serial} ${serial.toLowerCase()}`,
          wwn: `${serial}`,
          format: serial,
          taken: serial,
          severity: serial,
          sha256: 'ab',
          rpm: 5400,
          none: null,
          list: [serial, { text: `K2F4A0NRW`, sha256: 'ab' }, 7],
          reversed: { text: '57524e3041344632 4b' },
        },
        'masked',
      ),
    ).toStrictEqual({
      serial: '****4F2K',
      model: 'TERN ****4F2K ****4F2K',
      wwn: serial,
      format: serial,
      taken: serial,
      severity: serial,
      rpm: 5400,
      none: null,
      list: ['****4F2K', { text: '****' }, 7],
      reversed: { text: '****' },
    });
  });

  it('writes digests, and stars elsewhere', () => {
    const digestOf = (text: string): string => `digest:${text}`;
    const given = {
      serial: ` ${serial} `,
      sha256: 'ab',
      text: `a ${serial}`,
      model: serial,
      sources: [{ serial: '****4F2K' }],
    };
    expect(maskSerials(given, { digestOf })).toStrictEqual({
      serial: `digest:${serial}`,
      text: 'a ****',
      model: '****',
      sources: [{ serial: '****4F2K' }],
    });
  });

  it.each([
    ['eight characters', 'ABCD1234', '****1234'],
    ['seven characters, of which half is shown', 'ABC1234', '****234'],
    ['two characters', 'A1', '****1'],
    ['one character, of which nothing may be shown', 'A', undefined],
    ['a tail that is too long', '****0A4F2K', '****4F2K'],
    ['such a tail with a space before it', ' ****0A4F2K', '****4F2K'],
    ['a digest that is too short', 'digest:00ff', 'digest:00ff'],
  ])('shows of %s as much as may be seen', (_, given, shown) => {
    expect(maskSerials({ serial: given, text: 'x' }, 'masked')).toStrictEqual({
      ...(shown === undefined ? {} : { serial: shown }),
      text: 'x',
    });
  });

  it('shows less of a number whose tail is another one', () => {
    expect(maskSerials([{ serial: 'ABCD1234' }, { serial: '1234' }], 'masked')).toStrictEqual([
      { serial: '****234' },
      { serial: '****34' },
    ]);
  });

  it('shows the tail of the longest of those that overlap', () => {
    const given = [{ serial: 'ABCDEF12' }, { serial: 'EF12345678' }, { text: 'xABCDEF12345678y ABCDEF12' }];
    expect(maskSerials(given, 'masked')[2]).toStrictEqual({ text: 'x****5678y ****EF12' });
  });

  it('covers in unnamed fields what stands in several together', () => {
    const unnamed = [
      { at: 'word 1', value: 'x' },
      { at: 'word 2', value: 'WRN0A' },
      { at: 'word 3', value: '4F2K' },
      { at: 'word 4', value: 'y' },
      'other',
    ];
    expect(maskSerials({ serial, unnamed, named: unnamed }, 'masked')).toStrictEqual({
      serial: '****4F2K',
      unnamed: [
        { at: 'word 1', value: 'x' },
        { at: 'word 2', value: '****' },
        { at: 'word 3', value: '****' },
        { at: 'word 4', value: 'y' },
        'other',
      ],
      named: unnamed,
    });
    const apart = [unnamed[1], unnamed[3], unnamed[2]];
    expect(maskSerials({ serial, unnamed: apart }, 'masked')).toStrictEqual({ serial: '****4F2K', unnamed: apart });
  });

  it('covers two numbers that stand in fields apart', () => {
    const unnamed = ['WRN0A', '4F2K', '.', 'WRN0B', '9Q1C'].map((value) => ({ value }));
    expect(maskSerials([{ serial }, { serial: other }, { unnamed }], 'masked')[2]).toStrictEqual({
      unnamed: ['****', '****', '.', '****', '****'].map((value) => ({ value })),
    });
  });

  it('covers the first and the last of unnamed fields', () => {
    const unnamed = [{ value: 'aWRN' }, { value: '0A4F2Kb' }];
    expect(maskSerials({ serial, unnamed }, 'masked')).toStrictEqual({
      serial: '****4F2K',
      unnamed: [{ value: '****' }, { value: '****' }],
    });
  });
});

describe('a cover', () => {
  it('is none where there is nothing to cover', () => {
    expect(serialCover([], 'masked')).toBeUndefined();
    expect(serialCover(['****4F2K', '', '  ', 'digest:00ff00ff00ff00ff'], 'masked')).toBeUndefined();
  });

  it('finds, cleans and replaces', () => {
    const cover = serialCover([serial, serial, '****4F2K', other], 'masked');
    expect(cover?.find(`${other} x`).map(({ start, end }) => [start, end])).toEqual([[0, 9]]);
    expect(cover?.clean(`${serial}, ${other}.`)).toBe('****4F2K, ****9Q1C.');
    expect(cover?.instead(serial)).toBe('****4F2K');
    expect(cover?.instead(other)).toBe('****9Q1C');
    // What is no number of these is cleaned as any text, and digests stay.
    expect(cover?.instead(`x${serial}`)).toBe('x****4F2K');
    expect(cover?.instead('****4F2K')).toBe('****4F2K');
    expect(cover?.instead('digest:00ff00ff00ff00ff')).toBe('digest:00ff00ff00ff00ff');
  });

  it('goes on until none is left, whatever a tail makes with what stands around it', () => {
    const cover = serialCover(['ABCD1234', 'QQ1234'], 'masked');
    expect(cover?.clean('QQABCD1234 x')).toBe('**** x');
    expect(cover?.clean('QABCD1234 x')).toBe('Q****1234 x');
  });

  it('leaves digests alone, whatever they hold', () => {
    const digest = 'digest:00ff00ff00ff00ff';
    const cover = serialCover(['FF00FF'], 'masked');
    expect([cover?.instead(digest), cover?.clean(digest)]).toEqual([digest, expect.stringContaining('****')]);
  });

  it('shows the tails of two that stand side by side', () => {
    expect(serialCover(['ABCD1234', 'EFGH5678'], 'masked')?.clean('ABCD1234EFGH5678')).toBe('****1234****5678');
  });

  it('shows of two that are as long the tail of the first', () => {
    expect(serialCover(['ABCD1234', '1234X567'], 'masked')?.clean('ABCD1234X567.')).toBe('****1234.');
  });
});
