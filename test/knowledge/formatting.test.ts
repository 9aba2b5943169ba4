import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { formatText } from '../../server/src/core/edits/format-text.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';

const root = fileURLToPath(new URL('../../knowledge/', import.meta.url));
const files = readdirSync(root, { recursive: true, encoding: 'utf8' }).filter((path) => path.endsWith('.yaml'));

it('the demo base is laid out as the editor lays files out', () => {
  const untidy = files.filter((path) => {
    const text = readFileSync(`${root}${path}`, 'utf8');
    return formatText(readText(text).tape, { start: 0, end: text.length }).length > 0;
  });
  expect(files.length).toBeGreaterThan(100);
  expect(untidy).toEqual([]);
});
