import { describe, expect, it } from 'vitest';
import type { CaptureFormat, CaptureValues } from '../../server/src/core/captures/decoded.ts';
import { mergeValues, type WeighedSource } from '../../server/src/core/captures/merge-values.ts';

/** From the most direct form to the one that repeats most at second hand, and what has no form last. */
const inOrder: readonly (CaptureFormat | undefined)[] = [
  'ata_identify',
  'vpd_89',
  'vpd_80',
  'vpd_83',
  'smart_data',
  'smartctl_json',
  'lsblk_json',
  'capture',
  undefined,
];

function source(
  format: CaptureFormat | undefined,
  values: CaptureValues,
  severity?: 'error' | 'warning',
): WeighedSource {
  const problems = severity === undefined ? {} : { problems: [{ severity, message: 'Something.' }] };
  return { name: format ?? 'other', format, values, ...problems };
}

it('is nothing where there are no sources', () => {
  expect(mergeValues([])).toStrictEqual({ values: {}, problems: [] });
});

describe('of two sources', () => {
  const pairs = inOrder.slice(1).map((later, at) => [inOrder[at], later] as const);

  it.each(pairs)('`%s` is more direct than `%s`', (first, second) => {
    const better = source(first, { firmware: '1' });
    const worse = source(second, { firmware: '2', rpm: 5400 });
    for (const both of [
      [better, worse],
      [worse, better],
    ]) {
      expect(mergeValues(both)).toStrictEqual({ values: { firmware: '1', rpm: 5400 }, problems: [] });
    }
  });

  it('the one with an error comes after all without, whatever their forms', () => {
    const damaged = source('ata_identify', { firmware: '1' }, 'error');
    expect(mergeValues([damaged, source(undefined, { firmware: '2' })]).values).toEqual({ firmware: '2' });
    const alike = source('smart_data', { firmware: '3' }, 'error');
    expect(mergeValues([alike, damaged]).values).toEqual({ firmware: '1' });
  });

  it('the one with a warning comes where it would without', () => {
    const warned = source('ata_identify', { firmware: '1' }, 'warning');
    expect(mergeValues([source('vpd_89', { firmware: '2' }), warned]).values).toEqual({ firmware: '1' });
  });

  it('the first counts where both are of one form', () => {
    const both = [source('vpd_80', { firmware: '1' }), source('vpd_80', { firmware: '2' })];
    expect(mergeValues(both).values).toEqual({ firmware: '1' });
    expect(mergeValues(both.toReversed()).values).toEqual({ firmware: '2' });
  });

  it('both have one error among other problems', () => {
    const mixed: WeighedSource = {
      ...source('ata_identify', { firmware: '1' }),
      problems: [
        { severity: 'warning', message: 'Something.' },
        { severity: 'error', message: 'Something.' },
      ],
    };
    expect(mergeValues([mixed, source('capture', { firmware: '2' })]).values).toEqual({ firmware: '2' });
  });
});

it('gives values in the order of the schema, of whatever source', () => {
  const { values } = mergeValues([
    source('lsblk_json', { reallocated: 0, transport: 'sata', serial: 'WRN0A4F2K' }),
    source('vpd_83', { wwn: '500005e000530001' }),
  ]);
  expect(Object.entries(values)).toEqual([
    ['serial', 'WRN0A4F2K'],
    ['wwn', '500005e000530001'],
    ['transport', 'sata'],
    ['reallocated', 0],
  ]);
});

describe('sectors', () => {
  it('are counted in the size that the same source gives', () => {
    const { values } = mergeValues([
      source('ata_identify', { logicalSectorBytes: 512 }),
      source('smartctl_json', { lbaCount: 100, logicalSectorBytes: 4096 }),
    ]);
    expect(values).toStrictEqual({ lbaCount: 100, logicalSectorBytes: 4096 });
  });

  it('are counted in the size of another one where theirs has none', () => {
    const { values } = mergeValues([
      source('ata_identify', { lbaCount: 100 }),
      source('vpd_89', { lbaCount: 50, logicalSectorBytes: 4096 }),
    ]);
    expect(values).toStrictEqual({ lbaCount: 100, logicalSectorBytes: 4096 });
  });

  it('have a size where nobody counts them', () => {
    expect(mergeValues([source('vpd_89', { logicalSectorBytes: 4096 })]).values).toStrictEqual({
      logicalSectorBytes: 4096,
    });
  });
});

/** What is said of two sources, the first of which is the more direct one. */
function saidOf(one: CaptureValues, other: CaptureValues): readonly string[] {
  const given = [source('smartctl_json', other), source('ata_identify', one)];
  const { problems } = mergeValues(given);
  expect(problems.every(({ severity }) => severity === 'warning')).toBe(true);
  return problems.map(({ message }) => message);
}

describe('sources that contradict one another', () => {
  it.each([
    [
      'in the serial number',
      { serial: 'WRN0A4F2K' },
      { serial: 'WRN0B9Q1C' },
      'Serial number `WRN0B9Q1C` of `smartctl_json` is not the `WRN0A4F2K` of `ata_identify`; a bridge may have answered for the drive.',
    ],
    [
      'in the model',
      { model: 'TNS2-500' },
      { model: 'TNS2-1000' },
      'Model `TNS2-1000` of `smartctl_json` is not the `TNS2-500` of `ata_identify`; a bridge may have answered for the drive.',
    ],
    [
      'in the capacity',
      { lbaCount: 1000, logicalSectorBytes: 512 },
      { lbaCount: 1000, logicalSectorBytes: 4096 },
      'Capacity `4096000 bytes` of `smartctl_json` is not the `512000 bytes` of `ata_identify`; a bridge may have answered for the drive.',
    ],
  ])('%s', (_, one, other, message) => {
    expect(saidOf(one, other)).toEqual([message]);
  });

  it.each<readonly [string, CaptureValues, CaptureValues]>([
    ['a serial number that is masked alike', { serial: 'WRN0A4F2K' }, { serial: '****4F2K' }],
    [
      'a serial number as a digest, which cannot be told',
      { serial: 'WRN0A4F2K' },
      { serial: 'digest:00ff00ff00ff00ff' },
    ],
    ['models in different case', { model: 'tern 2' }, { model: 'TERN 2' }],
    ['models with underscores for spaces', { model: 'WREN_TERN_2' }, { model: 'WREN TERN 2' }],
    ['a model cut to 16 characters', { model: 'WREN TERN 2-0123456' }, { model: 'WREN TERN 2-0123' }],
    [
      'a model cut to 16 characters, the other way round',
      { model: 'WREN TERN 2-0123' },
      { model: 'WREN TERN 2-0123456' },
    ],
    [
      'the same bytes in other sectors',
      { lbaCount: 800, logicalSectorBytes: 512 },
      { lbaCount: 100, logicalSectorBytes: 4096 },
    ],
    ['other counts of sectors without a size', { lbaCount: 800 }, { lbaCount: 100, logicalSectorBytes: 512 }],
    ['other sizes of sectors without a count', { logicalSectorBytes: 512 }, { lbaCount: 1, logicalSectorBytes: 4096 }],
    ['another firmware', { firmware: '1' }, { firmware: '2' }],
    ['nothing in one of them', { serial: 'WRN0A4F2K', model: 'TERN' }, {}],
  ])('are not those with %s', (_, one, other) => {
    expect(saidOf(one, other)).toEqual([]);
  });

  it.each([
    ['of 15 characters', 'WREN TERN 2-01234', 'WREN TERN 2-012'],
    ['of 16 characters that end alike', 'WREN TERN 2-0123', '0WREN TERN 2-0123'],
    ['of 16 characters that begin otherwise', 'WREN TERN 2-0123', 'WREN TERN 3-0123456'],
  ])('are those with a model %s', (_, one, other) => {
    expect(saidOf({ model: one }, { model: other })).toHaveLength(1);
    expect(saidOf({ model: other }, { model: one })).toHaveLength(1);
  });

  it('are each told with the most direct one, in the order of serial number, model, capacity', () => {
    const one = { serial: 'A1', model: 'A', lbaCount: 1, logicalSectorBytes: 512 };
    const other = { serial: 'B2', model: 'B', lbaCount: 2, logicalSectorBytes: 512 };
    const { problems } = mergeValues([source('capture', other), source('vpd_80', one), source('lsblk_json', other)]);
    expect(problems.map(({ message }) => /^(\w+).* of `(\w+)` is not .* of `(\w+)`;/.exec(message)?.slice(1))).toEqual([
      ['Serial', 'lsblk_json', 'vpd_80'],
      ['Serial', 'capture', 'vpd_80'],
      ['Model', 'lsblk_json', 'vpd_80'],
      ['Model', 'capture', 'vpd_80'],
      ['Capacity', 'lsblk_json', 'vpd_80'],
      ['Capacity', 'capture', 'vpd_80'],
    ]);
  });
});
