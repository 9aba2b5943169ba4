import { createHash } from 'node:crypto';
import { load } from 'js-yaml';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { lintFiles } from '../harness/lint-files.ts';
import { configText, generatorVersion, makeBase, type TextFile, toBaseFile, toTwinFiles } from './base/make-base.ts';
import { type Counts, sizes } from './base/sizes.ts';

const base = makeBase(sizes.S, '1');

function asRecord(files: readonly TextFile[]): Record<string, string> {
  return { 'swaplore.yaml': configText, ...Object.fromEntries(files.map(({ path, text }) => [path, text])) };
}

/** The findings that a person has to act on, as `file: check`. */
async function findingsOf(files: readonly TextFile[]): Promise<string[]> {
  const findings = await lintFiles(asRecord(files));
  return findings.filter(({ severity }) => severity !== 'info').map(({ file, check }) => `${file}: ${check}`);
}

describe('a generated base', () => {
  it('has as many files as its size says', () => {
    expect(base.files.length).toBe(700);
    const total = ({ families, boards, outcomes }: Counts): number => families + boards + outcomes;
    expect([sizes.S, sizes.M, sizes.L].map(total)).toEqual([700, 6300, 24_000]);
  });

  it.each(['1', 'another'])('gives no error and no warning with seed %s', async (seed) => {
    expect(await findingsOf(makeBase(sizes.S, seed).files.map(toBaseFile))).toEqual([]);
  });

  it('gives exactly the faults that were planted', async () => {
    const { files, planted } = makeBase(sizes.S, '1', 14);
    expect(planted.length).toBeGreaterThan(7);
    expect((await findingsOf(files.map(toBaseFile))).sort()).toEqual(
      planted.map(({ path, check }) => `${path}: ${check}`).sort(),
    );
  });

  it('has the same bytes for the same seed; other bytes are another version of the generator', () => {
    const hash = createHash('sha1');
    for (const { path, text } of base.files.map(toBaseFile)) hash.update(`${path}\n${text}`);
    expect(`${generatorVersion}: ${hash.digest('hex')}`).toMatchInlineSnapshot(
      `"3: cb83d8146953372d0834adab65d1414be3c58be3"`,
    );
  });

  it('has a twin with the same records, and no value that a reader could take for a date', () => {
    const bytesOf = (files: readonly TextFile[]): number =>
      files.reduce((sum, { text }) => sum + Buffer.byteLength(text), 0);
    const twin = base.files.flatMap(toTwinFiles);
    const share = bytesOf(twin) / bytesOf(base.files.map(toBaseFile));
    expect(Math.abs(share - 1)).toBeLessThan(0.02);
    const records = base.files.flatMap((file) => file.records);
    expect(twin.length).toBe(records.length);
    for (const [position, { text }] of twin.entries()) {
      if (position % 20 > 0) continue;
      const [original] = base.files.filter((file) => file.records.some((record) => record === records[position]));
      const alone = toBaseFile({ ...original!, records: [records[position]!] });
      expect(parse(text)).toEqual(parse(alone.text));
      expect(JSON.stringify(load(text))).not.toContain('T00:00:00');
    }
  });

  it('may be one file of 5,000 lines', async () => {
    const files = makeBase(sizes.big, '1').files.map(toBaseFile);
    expect(files.map(({ text }) => text.split('\n').length - 1)).toEqual([5000]);
    expect(await findingsOf(files)).toEqual([]);
  });
});
