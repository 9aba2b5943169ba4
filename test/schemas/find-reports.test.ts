import { expect, it } from 'vitest';
import { findReports } from '../../schemas/tools/find-reports.ts';
import { folderOf } from '../harness/run-cli.ts';

function found(modules: Readonly<Record<string, string>>) {
  const texts = Object.entries(modules).map(([file, text]) => [
    file,
    `const defineReport = (report) => report;\nconst defineRecordReport = defineReport;\nexport ${text}`,
  ]);
  return findReports(folderOf(Object.fromEntries(texts)));
}

const shelf = "const shelfReport = defineReport({ name: 'shelf', title: 'Shelf', document: () => [] });";
const all = "const allReport = defineReport({ name: 'all', title: 'All', isIndex: true, document: () => [] });";
const drive = "const driveReport = defineRecordReport({ name: 'drive', titleBefore: '', document: () => [] });";
const tests = "const testsReport = defineReport({ name: 'tests', title: 'Tests', document: () => [] });";

it('finds the index, then the others by name, those about records apart, and no module that defines none', async () => {
  const modules = {
    'tests-report.ts': tests,
    'shelf-report.ts': shelf,
    'all-report.ts': all,
    'tern.ts': 'const a = 1;',
    'drive-report.ts': drive,
  };
  const { ofBase, ofRecord } = await found(modules);
  expect(ofBase.map(({ report }) => report.name)).toEqual(['all', 'shelf', 'tests']);
  expect(ofRecord.map(({ report }) => report.name)).toEqual(['drive']);
});

it.each([
  ['another export', { 'shelf-report.ts': all }, 'shelf-report.ts does not export the report `shelfReport`.'],
  ['another name', { 'shelf-report.ts': shelf.replace("'shelf'", "'all'") }, 'a report named `all`, which is no name'],
  [
    'the name of a page that may be there',
    { 'family-a-report.ts': shelf.replace('shelf', 'familyA').replace("'shelf'", "'family-a'") },
    'a report named `family-a`, which is no name',
  ],
  [
    'two of them as the index',
    { 'all-report.ts': all, 'shelf-report.ts': shelf.replace('title', 'isIndex: true, title') },
    'Two reports are the index.',
  ],
])('refuses %s', async (_, modules, message) => {
  await expect(found(modules)).rejects.toThrow(message);
});
