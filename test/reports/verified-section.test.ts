import { expect, it } from 'vitest';
import { renderText } from '../../server/src/core/reports/render-text.ts';
import { verifiedSection } from '../../server/src/core/reports/verified-section.ts';
import { readPage } from '../harness/read-page.ts';
import { filePagesOf } from '../harness/report-pages.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';
import { swapBase } from '../harness/swap-base.ts';

function outcome(id: string, rows: string, reached = 'verified'): string {
  return `kind: outcome\nid: ${id}\ndate: 2026-03-14\npatient: d-0117\ndonor: d-0118\nverify: [${rows}]\nreached: ${reached}\nresult: works\n`;
}

const files = swapBase({
  family: 'sector_bytes: {logical: 512, physical: 4096}',
  patient: 'capacity_gb: 1000',
  files: {
    'outcomes/more.yaml': [
      outcome('all', '{method: hash_compare, bytes: 1000000000000, errors: 0, minutes: 171, where: whole}'),
      outcome('some', '{method: checksum_scrub, bytes: 24990000000, errors: 0, minutes: 4, where: files}'),
      outcome('no-bytes', '{method: hash_compare, errors: 0, where: whole}'),
      outcome('bad', '{method: hash_compare, bytes: 500000000000, errors: 3, minutes: 300, where: spread}'),
      outcome('mounted', '{method: mount_only}'),
      outcome('read', '{method: read_pass, bytes: 1000000000000, errors: 0, where: whole}', 'reads'),
      `${outcome('taken-back', '{method: mount_only}')}retracted: {on: 2026-03-15, because: another drive}\n`,
    ].join('---\n'),
  },
});

const cells = [
  ['bad', 'with errors', 'not known', '10 h'],
  ['mounted', 'nothing', 'not known', 'not known'],
  ['no-bytes', 'not known', 'not known', 'not known'],
  ['some', '2.499 %', 'not known', '2 h 40 min'],
  ['all', '100 %', '1 in 81,000,000', '2 h 51 min'],
];

it('lists the outcomes that reached verified in a text, the least compared first', () => {
  const text = renderText(verifiedSection(snapshotOf(files)), { width: 100, strong: (words) => words });
  const rows = text.split('\n').filter((line) => cells.some(([id]) => line.trimStart().startsWith(`${id} `)));
  expect(rows.map((row) => row.trim().split(/ {2,}/))).toEqual(cells);
});

it('lists them on the page at a glance', () => {
  const { elements } = readPage(filePagesOf(files)['index.html'] ?? '');
  const headings = elements.filter(({ name }) => name === 'h2').map(({ text }) => text);
  expect(headings).toContain('How well outcomes were verified');
  const texts = elements.filter(({ name }) => name === 'th' || name === 'td').map(({ text }) => text);
  const from = texts.indexOf('full pass') + 1;
  expect(texts.slice(from, from + 20)).toEqual(cells.flat());
});

it('says how many it leaves out', () => {
  const many = Array.from({ length: 203 }, (_, position) => outcome(`o-${position}`, '{method: mount_only}'));
  const blocks = verifiedSection(snapshotOf(swapBase({ files: { 'outcomes/more.yaml': many.join('---\n') } })));
  expect(blocks.map((block) => (block.kind === 'table' ? block.rows.length : ''))).toEqual(['', 200, '']);
  expect(JSON.stringify(blocks)).toContain('3 more are not shown');
});

it('is left out where nothing was verified', () => {
  expect(verifiedSection(snapshotOf(swapBase({})))).toEqual([]);
});
