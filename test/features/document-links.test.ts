import { expect, it } from 'vitest';
import { documentLinksOf } from '../../server/src/core/features/document-links.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';

/** The links of a text as `typed -> target`. */
function links(text: string, path = 'outcomes/a.yaml'): readonly string[] {
  return documentLinksOf({ path, tape: readText(text).tape }).map(({ start, end, target }) => {
    return `${text.slice(start, end)} -> ${target.to === 'file' ? target.path : target.url}`;
  });
}

it('links captures, photos and ROM images, counted from the folder of the record', () => {
  const outcome = `kind: outcome
captures: {patient_before: captures/117a.json, after: {file: "../shared/a b.json", sha256: x}}
photos: [{file: ./p/1.jpg, shows: photos/2.jpg}]
---
kind: drive
rom_image: {file: roms/d.bin}
---
kind: board
revisions: [{rev: A, photos: [{file: b.jpg}]}]
`;
  expect(links(outcome)).toEqual([
    'captures/117a.json -> outcomes/captures/117a.json',
    '"../shared/a b.json" -> shared/a b.json',
    './p/1.jpg -> outcomes/p/1.jpg',
    'roms/d.bin -> outcomes/roms/d.bin',
    'b.jpg -> outcomes/b.jpg',
  ]);
});

it('links no path that leads out of the base or is absolute', () => {
  const paths = ['../../x.jpg', '/etc/x.jpg', 'C:\\x.jpg', 'c:/x.jpg', 'a\\..\\..\\x.jpg', 'file:///x', '..', 'p/'];
  expect(links(`kind: drive\nphotos: ${JSON.stringify(paths.map((file) => ({ file })))}\n`)).toEqual([]);
});

it('links sources that are web pages, and nothing else', () => {
  const urls = ['https://manuals.example/a.pdf', 'binder 4, tab 7', 'javascript:alert(1)', 'command:x', 'https://a b'];
  expect(links(`kind: maker\nsources: ${JSON.stringify(urls.map((url) => ({ title: 'A', url })))}\n`)).toEqual([
    '"https://manuals.example/a.pdf" -> https://manuals.example/a.pdf',
  ]);
  expect(links('kind: maker\nnotes: https://manuals.example\n')).toEqual([]);
});

it('links what an alias repeats', () => {
  expect(links('kind: drive\nx-p: &p [{file: a.jpg}]\nphotos: *p\n', 'd.yaml')).toEqual(['*p -> a.jpg']);
});
