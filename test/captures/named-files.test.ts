import { expect, it } from 'vitest';
import { namedFiles, wantedFiles } from '../../server/src/core/captures/named-files.ts';
import type { AnyRecord } from '../../server/src/core/model/record.ts';

const sum = '3B1F0C6A'.repeat(8);

function record(kind: 'drive' | 'outcome', data: object): AnyRecord {
  return { kind, id: 'one', data, unusable: [] } as unknown as AnyRecord;
}

const outcome = record('outcome', {
  captures: {
    patient_before: 'captures/a.json',
    donor_before: { sha256: sum },
    after: { file: 'captures/c.json', sha256: sum },
    other_after: { file: '../../outside.json' },
  },
  photos: [{ file: 'photos/a.jpg', shows: 'A board.' }, { shows: 'Nothing.' }, { file: 'photos/b.jpg' }],
});

it('gives the files that an outcome names, with what is wanted of each', () => {
  expect(namedFiles(outcome)).toStrictEqual([
    {
      written: 'captures/a.json',
      path: ['captures', 'patient_before'],
      key: 'patient_before',
      need: 'capture',
    },
    {
      written: 'captures/c.json',
      path: ['captures', 'after', 'file'],
      key: 'after',
      need: 'capture',
      sha256: { sum: sum.toLowerCase(), path: ['captures', 'after', 'sha256'] },
    },
    { written: '../../outside.json', path: ['captures', 'other_after', 'file'], key: 'other_after', need: 'capture' },
    { written: 'photos/a.jpg', path: ['photos', 0, 'file'], key: 'photos', need: 'presence' },
    { written: 'photos/b.jpg', path: ['photos', 2, 'file'], key: 'photos', need: 'presence' },
  ]);
});

it('gives the image that a drive names, whose sum is wanted where there is one', () => {
  const file = { written: 'roms/a.bin', path: ['rom_image', 'file'], key: 'rom_image' };
  expect(namedFiles(record('drive', { rom_image: { file: 'roms/a.bin', sha256: sum } }))).toStrictEqual([
    { ...file, need: 'sum', sha256: { sum: sum.toLowerCase(), path: ['rom_image', 'sha256'] } },
  ]);
  expect(namedFiles(record('drive', { rom_image: { file: 'roms/a.bin' } }))).toStrictEqual([
    { ...file, need: 'presence' },
  ]);
  expect(namedFiles(record('drive', { rom_image: { file: 'roms/a.bin', sha256: 17 } }))).toStrictEqual([
    { ...file, need: 'presence' },
  ]);
  expect(namedFiles(record('drive', {}))).toEqual([]);
});

it('gives paths in the base, those that lead out of it left out', () => {
  expect(wantedFiles(outcome, 'outcomes/one.yaml')).toEqual([
    { path: 'outcomes/captures/a.json', need: 'capture' },
    { path: 'outcomes/captures/c.json', need: 'capture' },
    { path: 'outcomes/photos/a.jpg', need: 'presence' },
    { path: 'outcomes/photos/b.jpg', need: 'presence' },
  ]);
});
