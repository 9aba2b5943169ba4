import { describe, expect, it } from 'vitest';
import { afterMasking, maskingIntents, readCapture } from '../../server/src/core/captures/read-capture.ts';
import { tracedFrom } from '../../server/src/core/captures/traced-capture.ts';
import { limits } from '../../server/src/core/syntax/limits.ts';
import { parseDate } from '../../server/src/core/terms/calendar.ts';
import { sha256 } from '../../server/src/core/text/sha256.ts';

const encoder = new TextEncoder();

function read(value: unknown) {
  return readCapture(encoder.encode(typeof value === 'string' ? value : JSON.stringify(value)));
}

const source = { name: 'a', values: {} };
const nothing = { values: {}, problems: [], serials: [] };

describe('what cannot be used', () => {
  const missing = {
    kind: 'schema',
    document: 0,
    path: [],
    problem: { what: 'missing', expected: 'one map that begins with `"capture": 1`' },
  };

  it.each([
    ['nothing', ''],
    ['a comment', '# nothing\n'],
    ['a text', 'capture\n'],
    ['a list', '- capture: 1\n'],
    ['two captures', 'capture: 1\n---\ncapture: 1\n'],
  ])('is %s', (_, text) => {
    expect(read(text)).toEqual({ ...nothing, faults: [missing] });
  });

  it('is what is no text, or too much of it', () => {
    expect(readCapture(Uint8Array.from([0xff, 0x41]))).toMatchObject({ ...nothing, faults: [{ kind: 'not-text' }] });
    const long = new Uint8Array(limits.fileBytes + 1).fill(0x20);
    expect(readCapture(long)).toEqual({ ...nothing, faults: [{ kind: 'too-large', bytes: long.length }] });
    expect(readCapture(long.subarray(1))).toEqual({ ...nothing, faults: [missing] });
  });

  it('is what is no YAML', () => {
    const { faults, ...rest } = read('{"capture": 1');
    expect(rest).toEqual(nothing);
    expect(faults.length).toBeGreaterThan(0);
  });

  it('is one of another version, of which serial numbers are told all the same', () => {
    const facts = read({
      capture: 2,
      taken: '2026-03-14',
      values: { serial: 'WRN0A4F2K', rpm: 5400 },
      sources: [source],
    });
    expect(facts).toMatchObject({ ...nothing, serials: [{ path: ['values', 'serial'], masked: '****4F2K' }] });
    expect(facts.taken).toBeUndefined();
    expect(facts.faults.map((fault) => 'path' in fault && fault.path)).toEqual([['capture']]);
    expect(facts.maskedSha256).toHaveLength(64);
  });
});

it('gives what is recorded', () => {
  const problems = [{ severity: 'warning', message: 'Of all.' }];
  const own = [{ severity: 'error', message: 'Of a.' }];
  expect(
    read({
      capture: 1,
      taken: '2026-03-14',
      values: { rpm: 5400, serial: '****4F2K' },
      problems,
      sources: [{ ...source, problems: own }, source],
    }),
  ).toEqual({
    taken: '2026-03-14',
    values: { serial: '****4F2K', rpm: 5400 },
    problems: [
      { severity: 'warning', message: 'Of all.' },
      { severity: 'error', message: 'Of a.', source: 'a' },
    ],
    faults: [],
    serials: [],
  });
});

it('holds no key of what is not recorded', () => {
  const facts = read({ capture: 1, values: {}, problems: [{ severity: 'error', message: 'A.' }], sources: [source] });
  expect(Object.keys(facts)).toEqual(['values', 'problems', 'faults', 'serials']);
  expect(Object.keys(facts.problems[0] ?? {})).toEqual(['severity', 'message']);
});

it('leaves out what breaks the form, and keeps the rest', () => {
  const facts = read({
    capture: 1,
    values: { rpm: 'many', firmware: '1.02' },
    problems: [{ severity: 'bad', message: 'A.' }, { severity: 'error' }, { severity: 'error', message: 'B.' }],
    sources: [source],
  });
  expect({ ...facts, faults: [] }).toEqual({
    values: { firmware: '1.02' },
    problems: [{ severity: 'error', message: 'B.' }],
    faults: [],
    serials: [],
  });
  expect(facts.faults.map((fault) => 'document' in fault && fault.document)).toEqual([0, 0, 0]);
});

describe('serial numbers in full', () => {
  const capture = {
    capture: 1,
    values: { serial: 'WRN0A4F2K', model: 'TERN WRN0A4F2K' },
    sources: [
      { name: 'a', sha256: 'ab'.repeat(32), values: { serial: 'WRN0A4F2K' } },
      { name: 'b', values: { serial: 'WRN0B9Q1C' } },
      { name: 'c', values: { serial: 'WRN0B9Q1C' } },
      { name: 'd', values: { serial: '****7T3M' } },
    ],
  };
  const masked = {
    capture: 1,
    values: { serial: '****4F2K', model: 'TERN ****4F2K' },
    sources: [
      { name: 'a', values: { serial: '****4F2K' } },
      { name: 'b', values: { serial: '****9Q1C' } },
      { name: 'c', values: { serial: '****9Q1C' } },
      { name: 'd', values: { serial: '****7T3M' } },
    ],
  };
  const places = [
    { path: ['values', 'serial'], masked: '****4F2K' },
    { path: ['values', 'model'], masked: 'TERN ****4F2K' },
    { path: ['sources', 0, 'sha256'] },
    { path: ['sources', 0, 'values', 'serial'], masked: '****4F2K' },
    { path: ['sources', 1, 'values', 'serial'], masked: '****9Q1C' },
    { path: ['sources', 2, 'values', 'serial'], masked: '****9Q1C' },
  ];
  const text = JSON.stringify(capture, null, 2);
  const facts = read(text);

  it('are told with their places, those that do not count by themselves', () => {
    expect(facts).toEqual({
      values: capture.values,
      problems: [],
      faults: [],
      otherSerials: [{ serial: 'WRN0B9Q1C' }],
      serials: places,
      maskedSha256: sha256(encoder.encode(JSON.stringify(masked, null, 2))),
    });
  });

  it('give no sum of the masked file where a mark stands before it', () => {
    const { maskedSha256, ...rest } = read(`\ufeff${text}`);
    const { maskedSha256: sum, ...whole } = facts;
    expect([maskedSha256, sum?.length]).toEqual([undefined, 64]);
    expect(rest).toEqual(whole);
  });

  it('are told as what is to be edited', () => {
    expect(maskingIntents(places.slice(1, 3))).toEqual([
      { intent: 'set', document: 0, path: ['values', 'model'], value: 'TERN ****4F2K' },
      { intent: 'remove', document: 0, path: ['sources', 0, 'sha256'] },
    ]);
    expect(maskingIntents([])).toEqual([]);
  });

  it('are gone afterwards', () => {
    expect(afterMasking(facts)).toEqual({
      values: masked.values,
      problems: [],
      faults: [],
      serials: [],
    });
    const said = read({ ...capture, problems: [{ severity: 'error', message: 'WRN0A4F2K is not WRN0B9Q1C.' }] });
    expect(afterMasking(said).problems).toEqual([{ severity: 'error', message: '****4F2K is not ****9Q1C.' }]);
  });

  it('of which nothing may be shown are taken out', () => {
    const { serials } = read({ capture: 1, values: { serial: 'Q' }, sources: [source] });
    expect(serials).toEqual([{ path: ['values', 'serial'] }]);
  });
});

it('is traced with its day, other numbers and faults', () => {
  const facts = read({ capture: 1, values: { rpm: 5400 }, sources: [source] });
  expect(tracedFrom(facts)).toEqual({
    values: { rpm: 5400 },
    taken: undefined,
    likelySerials: [],
    problems: [],
  });
  const problem = { severity: 'warning', message: 'Something.' } as const;
  expect(
    tracedFrom({
      ...facts,
      taken: '2026-03-14',
      problems: [problem],
      faults: [{ kind: 'too-large', bytes: 1 }],
      otherSerials: [{ serial: 'WRN0B9Q1C' }],
    }),
  ).toEqual({
    values: { rpm: 5400 },
    taken: parseDate('2026-03-14'),
    likelySerials: ['WRN0B9Q1C'],
    problems: [problem, { severity: 'error', message: 'The capture file has faults, so values may be missing.' }],
  });
});
