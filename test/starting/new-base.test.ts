import { readFileSync } from 'node:fs';
import { posix } from 'node:path';
import { describe, expect, it } from 'vitest';
import { collectContradictions } from '../../server/src/core/reports/contradictions.ts';
import { ciKitIds, ciKits } from '../../server/src/core/starting/ci-kits.ts';
import { newBase } from '../../server/src/core/starting/new-base.ts';
import { findTool, usualTool } from '../../server/src/core/starting/tool.ts';
import { parseDate } from '../../server/src/core/terms/calendar.ts';
import { kinds, pluralOf } from '../../server/src/core/terms/kinds.ts';
import { lintSnapshot, loadFiles } from '../harness/lint-files.ts';
import { projectRoot } from '../harness/source-files.ts';

const today = parseDate('2026-11-25')!;
const texts = new Map(
  newBase({ name: 'Harbour Street', today, kits: ciKitIds, tool: usualTool }).map(({ path, text }) => [path, text]),
);
const files = Object.fromEntries(texts);
const records = [...texts.keys()].filter((path) => /^[^.].*\/.*\.yaml$/.test(path));
const manifest = JSON.parse(readFileSync(`${projectRoot}package.json`, 'utf8'));

function textOf(path: string): string {
  return texts.get(path) ?? '';
}

describe('the examples', () => {
  it('are of every kind, in a folder for each and named for their ids', async () => {
    const snapshot = await loadFiles(files);
    const expected = kinds.flatMap((kind) => snapshot.records(kind).map(({ id }) => `${pluralOf(kind)}/${id}.yaml`));
    expect([...records].sort()).toEqual(expected.sort());
    expect(kinds.map((kind) => snapshot.records(kind).length)).toEqual([1, 1, 1, 2, 1, 1]);
  });

  it('bear the rule out', async () => {
    const { data } = collectContradictions(await loadFiles(files));
    expect(data.rules).toEqual([{ id: 'ravelin-own-rom-travels', support: 1, against: 0, undecided: 0, excepted: 0 }]);
  });

  it.each(records)('are all needed: without %s something is missing', async (path) => {
    const { [path]: _, ...others } = files;
    const snapshot = await loadFiles(others);
    const { rules } = collectContradictions(snapshot).data;
    const isTold = lintSnapshot(snapshot, others, { today }).length > 0 || rules.length === 0;
    expect(isTold).toBe(true);
  });

  it.each(records)('%s says at its top that it is invented', (path) => {
    expect(textOf(path)).toMatch(/^# Example, invented\. /);
  });
});

it('recommends the extension by the name it is published under', () => {
  expect(JSON.parse(textOf('.vscode/extensions.json'))).toEqual({
    recommendations: [`${manifest.publisher}.${manifest.name}`],
  });
});

describe('the README', () => {
  const guide = textOf('README.md');

  it('names every file of an example, for the day these are deleted', () => {
    const [, list = ''] = guide.split('## The examples');
    expect([...list.matchAll(/^- `(.*)`$/gm)].map(([, path]) => path)).toEqual(records);
  });

  it('names no file that is not made', () => {
    const named = [...guide.matchAll(/`([\w.-]+\/[\w./-]*)`/g)].map(([, path = '']) => path);
    const folders = new Set([...texts.keys()].map((path) => `${posix.dirname(path)}/`));
    expect(named.filter((path) => !texts.has(path) && !folders.has(path))).toEqual([usualTool.tarball]);
  });

  it('names every kit that is made, and no other', () => {
    const named = [...guide.matchAll(/^- `(.*)`: (.*)\.$/gm)].map(([, path, does]) => [path, does]);
    for (const { path, describe } of Object.values(ciKits)) expect(named).toContainEqual([path, describe]);
    const [alone] = newBase({ name: 'Quay', today, kits: ['shell'], tool: usualTool });
    expect(alone?.text).toContain('ci/lint.sh');
    expect(alone?.text).not.toContain('GitLab');
  });

  it('says where the tool comes from', () => {
    const ofRegistry = newBase({ name: 'Quay', today, kits: [], tool: findTool('swaplore@0.1.0')! });
    expect(ofRegistry[0]?.text).toContain("Swaplore comes from npm's registry as `swaplore@0.1.0`.");
    expect(guide).toContain('as the tarball `tools/swaplore.tgz`');
  });

  it('shows a name as it is', () => {
    const [first] = newBase({ name: 'A *bold* <b>name</b>', today, kits: [], tool: usualTool });
    expect(first?.text).toMatch(/^# A \\\*bold\\\* \\<b\\>name\\<\/b\\>\n/);
  });
});
