import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { baseReports } from '../../server/src/core/reports/report-titles.ts';
import { folderOf, runCommand, transcript } from '../harness/run-cli.ts';
import { outcome, ternBench } from '../harness/tern-bench.ts';

const broken = { ...ternBench, 'outcomes/left.yaml': outcome('left', 'left') };
const args = ['report', '--out', 'out', '--today', '2026-11-25'];

/** The pages about the whole base, in the order they are named in. */
const pages = Object.values(baseReports).map(({ file }) => file);

function pagesIn(folder: string): Record<string, string> {
  return Object.fromEntries(readdirSync(folder).map((name) => [name, readFileSync(join(folder, name), 'utf8')]));
}

it('writes pages and says where', () => {
  const folder = folderOf(ternBench);
  expect(transcript(runCommand(folder, args)).replace(pages.join(', '), 'PAGES')).toMatchInlineSnapshot(`
    "Harbour Street bench: 0 errors, 0 warnings, 0 notes
    Written to out: PAGES
    Families with a page each: 1
    exit 0"
  `);
  expect(pages[0]).toBe('index.html');
  expect(pages).toEqual(expect.arrayContaining(['contradictions.html', 'findings.html']));
  expect(Object.keys(pagesIn(join(folder, 'out'))).sort()).toEqual([...pages, 'family-tern-2.html'].sort());
});

it('ends with exit code 1 where there is an error, like lint', () => {
  const folder = folderOf(broken);
  expect(transcript(runCommand(folder, args)).replace(pages.join(', '), 'PAGES')).toMatchInlineSnapshot(`
    "Harbour Street bench: 1 error, 0 warnings, 0 notes
    Written to out: PAGES
    Families with a page each: 1
    exit 1"
  `);
  expect(pagesIn(join(folder, 'out'))['findings.html']).toContain('outcome-breaks-rule');
});

it('writes the same bytes again, from wherever it is run', () => {
  const folder = folderOf(broken);
  runCommand(folder, args);
  const first = pagesIn(join(folder, 'out'));
  const again = ['report', '--folder', '..', '--out', 'deep/er', '--today', '2026-11-25'];
  expect(runCommand(folder, again, { from: 'rules' }).code).toBe(1);
  expect(pagesIn(join(folder, 'rules/deep/er'))).toEqual(first);
  runCommand(folder, args);
  expect(pagesIn(join(folder, 'out'))).toEqual(first);
});

it('names the day it took for today', () => {
  const folder = folderOf(ternBench);
  runCommand(folder, ['report', '--out', 'out', '--today', '2026-03-14']);
  expect(pagesIn(join(folder, 'out'))['index.html']).toContain('The checks took 2026-03-14 for today.');
});

it('lets everybody read the pages whom the user lets read files', (context) => {
  if (process.platform === 'win32') return context.skip('there are no such permissions');
  const folder = folderOf(ternBench);
  runCommand(folder, args);
  writeFileSync(join(folder, 'plain'), '');
  expect(statSync(join(folder, 'out/index.html')).mode).toBe(statSync(join(folder, 'plain')).mode);
});

describe('leaves alone what it did not write', () => {
  it('a page of somebody else', () => {
    const folder = folderOf({ ...ternBench, 'out/findings.html': '<h1>Mine</h1>' });
    expect(transcript(runCommand(folder, args))).toMatchInlineSnapshot(`
      "! swaplore: out/findings.html holds something else, so nothing was written.
      ! Name another place, or move what stands there.
      exit 2"
    `);
    expect(pagesIn(join(folder, 'out'))).toEqual({ 'findings.html': '<h1>Mine</h1>' });
  });

  it('a link, even to a page of its own', () => {
    const folder = folderOf(ternBench);
    runCommand(folder, ['report', '--out', 'elsewhere']);
    mkdirSync(join(folder, 'out'));
    symlinkSync(join(folder, 'elsewhere/index.html'), join(folder, 'out/index.html'));
    expect(transcript(runCommand(folder, args))).toMatchInlineSnapshot(`
      "! swaplore: out/index.html is no regular file, so nothing was written.
      ! Name another place, or move what stands there.
      exit 2"
    `);
    expect(readdirSync(join(folder, 'out'))).toEqual(['index.html']);
  });

  it('a file where the folder should be', () => {
    const folder = folderOf({ ...ternBench, out: 'mine' });
    expect(transcript(runCommand(folder, args))).toMatchInlineSnapshot(`
      "! swaplore: out/index.html cannot be read: a part of its path is no folder, so nothing was written.
      ! Name another place, or move what stands there.
      exit 2"
    `);
    expect(readFileSync(join(folder, 'out'), 'utf8')).toBe('mine');
  });
});

it('says why it cannot write', (context) => {
  if (process.getuid?.() !== 0) return context.skip('only root can run it as somebody else');
  expect(transcript(runCommand(folderOf(ternBench), args, { user: 65534 }))).toMatchInlineSnapshot(`
    "! swaplore: out/index.html cannot be written: permission denied.
    exit 2"
  `);
});

it('cannot run without a folder to write into, or without a base', () => {
  expect(transcript(runCommand(folderOf(ternBench), ['report']))).toMatchInlineSnapshot(`
    "! swaplore: report needs --out DIR.
    ! Name a folder; it is made where there is none.
    exit 2"
  `);
  expect(transcript(runCommand(folderOf(ternBench), ['report', '--out', '']))).toMatchInlineSnapshot(`
    "! swaplore: report needs --out DIR.
    ! Name a folder; it is made where there is none.
    exit 2"
  `);
  const empty = folderOf({});
  expect(transcript(runCommand(empty, args))).toMatchInlineSnapshot(`
    "! swaplore: There is no swaplore.yaml in, above or below this folder.
    ! A base is the folder that holds a swaplore.yaml with the line "swaplore: 1".
    exit 2"
  `);
  expect(existsSync(join(empty, 'out'))).toBe(false);
});
