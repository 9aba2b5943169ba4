import { expect, it } from 'vitest';
import { rankDonors } from '../../server/src/core/donors/rank-donors.ts';
import { placesIn } from '../../server/src/core/reports/document.ts';
import { donorSheet } from '../../server/src/core/reports/donor-sheet.ts';
import { panelPage } from '../../server/src/core/reports/panel-page.ts';
import { PlaceBook } from '../../server/src/core/reports/place-book.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { readPage } from '../harness/read-page.ts';
import { panelNonce } from '../harness/report-pages.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';
import { ternBench } from '../harness/tern-bench.ts';

const spare = 'kind: drive\nid: d-0119\nfamily: tern-2\nshelf: {spare: true, place: "<b>B2</b>"}\n';
const texts = { ...ternBench, 'drives/spare.yaml': spare };

it('becomes a page whose donors lead to their records', () => {
  const snapshot = snapshotOf(texts);
  const blocks = donorSheet(rankDonors('d-0117', snapshot)!, { snapshot, baseName: 'bench', mostDonors: 5 });
  const places = placesIn(blocks);
  expect(places).toMatchObject([{ file: 'drives/spare.yaml', target: { document: 0, path: ['id'] } }]);
  const book = new PlaceBook(new Map(Object.entries(texts).map(([path, text]) => [path, readText(text).tape])));
  const numbers = new Map(places.map((place, number) => [place, number]));
  const html = panelPage({ report: 'overview', blocks, today: 20_000, book, numbers, nonce: panelNonce });
  const { elements } = readPage(html);
  const shown = (name: string): string[] => elements.flatMap((one) => (one.name === name ? one.text : []));
  expect(shown('h1')).toEqual(['Donors for d-0117: bench']);
  expect(shown('h2')).toEqual(['Examination', 'What has to travel', 'Open: no law is against it']);
  expect(elements.filter(({ attributes }) => attributes['data-place'] === '0')).toHaveLength(1);
  expect(shown('h3')).toEqual(['d-0119: board not recorded, <b>B2</b>']);
});
