import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatText } from '../../server/src/core/edits/format-text.ts';
import { ciKitIds } from '../../server/src/core/starting/ci-kits.ts';
import { newBase } from '../../server/src/core/starting/new-base.ts';
import { findTool } from '../../server/src/core/starting/tool.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { parseDate } from '../../server/src/core/terms/calendar.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { lintSnapshot, loadFiles } from '../harness/lint-files.ts';

const names = fc.oneof(
  fc.string({ minLength: 1 }),
  fc.string({ minLength: 1, unit: 'binary' }),
  fc.constantFrom('Harbour Street bench', 'no', '12', '~', '- a', 'a: b', 'a # b', "'", '"', '*', '[x', '\n', '\t'),
);
const days = fc.integer({ min: parseDate('1970-01-01')!, max: parseDate('2100-12-31')! });
const kits = fc.subarray([...ciKitIds]);
const tools = fc.constantFrom(...['tools/swaplore.tgz', '@bench/swaplore@1.2.3-rc.1'].map((text) => findTool(text)!));
const bases = fc.record({ name: names, today: days, kits, tool: tools });

function filesOf(base: Parameters<typeof newBase>[0]): Record<string, string> {
  return Object.fromEntries(newBase(base).map(({ path, text }) => [path, text]));
}

describe('new base', () => {
  it('nothing is found in a new base, on the day it is made or later', () =>
    assertLaw(
      200,
      fc.asyncProperty(bases, fc.nat(30_000), async (base, later) => {
        const files = filesOf(base);
        const snapshot = await loadFiles(files);
        expect(snapshot.recordCount).toBe(7);
        expect(lintSnapshot(snapshot, files, { today: base.today + later })).toEqual([]);
      }),
    ));

  it('its config has the name that was given', () =>
    assertLaw(
      1000,
      fc.asyncProperty(bases, async (base) => {
        expect((await loadFiles(filesOf(base))).config.name).toBe(base.name);
      }),
    ));

  it('its files are laid out as an editor lays them out', () => {
    assertLaw(
      300,
      fc.property(bases, (base) => {
        for (const { path, text } of newBase(base)) {
          const edits = formatText(readText(text).tape, { start: 0, end: text.length });
          if (/\.ya?ml$/.test(path)) expect([path, edits]).toEqual([path, []]);
        }
      }),
    );
  });
});
