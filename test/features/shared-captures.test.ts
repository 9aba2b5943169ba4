import { expect, it } from 'vitest';
import { sha256 } from '../../server/src/core/text/sha256.ts';
import { checkFresh, foundIn, type TextFiles, textsAfterFixAll, weighed } from '../harness/checked-files.ts';

const capture = '{ "capture": 1, "values": { "serial": "WRN0A4F2K" } }\n';

const base = {
  'base.yaml':
    'kind: maker\nid: wren\nname: Wren\n---\nkind: family\nid: tern-2\nmaker: wren\nname: Tern 2\nadaptives: {stored_in: platters}\n---\nkind: drive\nid: d-0117\nfamily: tern-2\n---\nkind: drive\nid: d-0118\nfamily: tern-2\n',
  '117a.json': capture,
};

function sumOf(text: string): string {
  return sha256(new TextEncoder().encode(text));
}

function outcome(id: string, file: string): string {
  return `kind: outcome
id: ${id}
date: 2026-03-14
patient: d-0117
donor: d-0118
rom: left
captures: {patient_before: ${file}}
reached: reads
result: works
`;
}

const withSum = `{file: 117a.json, sha256: ${sumOf(capture)}}`;

/** How the remedies that mask the capture are offered. */
function kindsOf(files: TextFiles): readonly string[] {
  const checked = checkFresh(files);
  return foundIn(checked)
    .filter(({ check }) => check === 'serial-not-masked')
    .flatMap(({ fixes }) => fixes.map((fix) => weighed(fix, checked).kind));
}

it('asks before it masks a capture whose sum another outcome records', () => {
  const files = { ...base, 'one.yaml': outcome('one', withSum), 'two.yaml': outcome('two', withSum) };
  expect(kindsOf(files)).toEqual(['ask', 'ask']);
  expect(textsAfterFixAll(checkFresh(files), 'one.yaml')).toEqual(files);
});

it('masks a capture that another outcome names without its sum', () => {
  const files = { ...base, 'one.yaml': outcome('one', withSum), 'two.yaml': outcome('two', '117a.json') };
  expect(kindsOf(files)).toEqual(['fix', 'ask']);
});

it('records the new sum in every outcome of a file that is mended at once', () => {
  const files = { ...base, 'one.yaml': `${outcome('one', withSum)}---\n${outcome('two', withSum)}` };
  const after = textsAfterFixAll(checkFresh(files), 'one.yaml');
  const masked = capture.replace('WRN0A4F2K', '****4F2K');
  expect(after).toEqual({
    ...base,
    '117a.json': masked,
    'one.yaml': files['one.yaml'].replaceAll(sumOf(capture), sumOf(masked)),
  });
});

it('asks where another outcome records the sum and nobody checks sums', () => {
  const files = {
    ...base,
    'swaplore.yaml': 'swaplore: 1\nseverity: {capture-changed: off}\n',
    'one.yaml': outcome('one', withSum),
    'two.yaml': outcome('two', withSum),
  };
  expect(kindsOf(files)).toEqual(['ask', 'ask']);
});
