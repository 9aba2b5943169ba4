import { describe, expect, it } from 'vitest';
import { captureOf, type ReadSource } from '../../server/src/core/captures/capture-file.ts';
import type { Decoded } from '../../server/src/core/captures/decoded.ts';
import { sha256 } from '../../server/src/core/text/sha256.ts';

const bytes = new TextEncoder().encode('{"smartctl": {}, "model_name": "TERN", "serial_number": "WRN0A4F2K"}');
const plain: Decoded = { format: 'vpd_80', values: { firmware: '1.02' }, problems: [], unnamed: [] };

function source(name: string, decoded: Partial<Decoded>): ReadSource {
  return { name, bytes, decoded: { ...plain, ...decoded } };
}

describe('with serial numbers in full', () => {
  const capture = (sources: readonly ReadSource[], taken?: string) =>
    captureOf({ sources, serials: 'full', ...(taken === undefined ? {} : { taken }) });

  it('holds what the bytes say, with their sum', () => {
    expect(capture([{ name: 'smartctl --json', bytes }], '2026-03-14')).toStrictEqual({
      capture: 1,
      taken: '2026-03-14',
      values: { serial: 'WRN0A4F2K', model: 'TERN' },
      sources: [
        {
          name: 'smartctl --json',
          format: 'smartctl_json',
          sha256: sha256(bytes),
          values: { serial: 'WRN0A4F2K', model: 'TERN' },
        },
      ],
    });
  });

  it('leaves out what there is none of', () => {
    expect(capture([source('a', { format: undefined, values: {} })])).toStrictEqual({
      capture: 1,
      values: {},
      sources: [{ name: 'a', sha256: sha256(bytes), values: {} }],
    });
  });

  it('keeps what has no name and problems, empty values left out', () => {
    const unnamed = [
      { at: 'word 1', value: '' },
      { at: 'word 2', value: '0001' },
    ];
    const problems = [{ severity: 'error', message: 'Something.' }] as const;
    const [one, other] = capture([
      source('a', { unnamed, problems }),
      source('b', { unnamed: unnamed.slice(0, 1) }),
    ]).sources;
    expect(one).toStrictEqual({
      name: 'a',
      format: 'vpd_80',
      sha256: sha256(bytes),
      values: { firmware: '1.02' },
      unnamed: unnamed.slice(1),
      problems,
    });
    expect(other).toStrictEqual({ name: 'b', format: 'vpd_80', sha256: sha256(bytes), values: { firmware: '1.02' } });
  });

  it('puts the values of sources together, and says where they contradict one another', () => {
    const { values, problems, sources } = capture([
      source('a', { format: 'lsblk_json', values: { model: 'A', firmware: '1' } }),
      source('b', { format: 'vpd_89', values: { model: 'B' } }),
    ]);
    expect(values).toStrictEqual({ model: 'B', firmware: '1' });
    expect(problems).toEqual([
      {
        severity: 'warning',
        message: 'Model `A` of `a` is not the `B` of `b`; a bridge may have answered for the drive.',
      },
    ]);
    expect(sources.map(({ name }) => name)).toEqual(['a', 'b']);
  });

  it('believes a source with an error last', () => {
    const problems = [{ severity: 'error', message: 'Something.' }] as const;
    const { values } = capture([
      source('a', { problems }),
      source('b', { format: 'capture', values: { firmware: '2' } }),
    ]);
    expect(values).toStrictEqual({ firmware: '2' });
  });
});

it('covers serial numbers, and whatever may be one, where they are masked', () => {
  const unnamed = [
    { at: 'designator 1', value: 'TERN XY77Q1ZZ' },
    { at: 'designator 2', value: 'WRN0A4F2K' },
  ];
  const sources = [source('a', { values: { serial: 'WRN0A4F2K' }, unnamed, likelySerials: ['XY77Q1ZZ'] })];
  expect(captureOf({ sources, serials: 'masked' })).toStrictEqual({
    capture: 1,
    values: { serial: '****4F2K' },
    sources: [
      {
        name: 'a',
        format: 'vpd_80',
        values: { serial: '****4F2K' },
        unnamed: [
          { at: 'designator 1', value: 'TERN ****Q1ZZ' },
          { at: 'designator 2', value: '****4F2K' },
        ],
      },
    ],
  });
});

it('leaves sums where nothing is to be covered', () => {
  const { sources } = captureOf({ sources: [source('a', {})], serials: 'masked' });
  expect(sources[0]?.sha256).toBe(sha256(bytes));
});
