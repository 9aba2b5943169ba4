import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type FileFacts, readFileFacts } from '../../server/src/core/model/file-facts.ts';
import { addComments } from '../harness/add-comments.ts';
import { arbitraryBase } from '../harness/arbitrary-base.ts';
import { arbitraryDamage, damageText } from '../harness/arbitrary-damage.ts';
import { arbitraryOddity } from '../harness/arbitrary-oddity.ts';
import { assertLaw, effort } from '../harness/assert-law.ts';
import { readFixtures } from '../harness/fixtures.ts';
import { lintSnapshot } from '../harness/lint-files.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';
import { arbitraryLayout, writeFiles } from '../harness/write-files.ts';

const fixtures = readFixtures();
const arbitraryFixture = fc.constantFrom(...fixtures);

/** Reads bytes, looks for findings and resolves them. Throws where anything on the way does. */
function readAll(path: string, bytes: Uint8Array): void {
  const files = { [path]: bytes };
  const findings = lintSnapshot(snapshotOf(files), files);
  // A crash in a check, or in the YAML package, is caught and told; here it is a failure.
  const crash = findings.find(({ check, message }) => check === 'internal-check-failed' || /gave up/.test(message));
  if (crash) throw new Error(crash.message);
}

/** The reader catches a crash of the YAML package and tells it as a fault; here it is a failure. */
function expectNoSurrender({ faults }: FileFacts): void {
  const told = faults.find((fault) => fault.kind === 'syntax' && /gave up/.test(fault.reason));
  if (told) throw new Error(JSON.stringify(told));
}

function encode(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}

/** The documents of a text, each with the one before it: one that is cut off has no other neighbour that is read. */
function documentsOf(text: string): readonly { readonly before: string; readonly document: string }[] {
  const documents = text.split(/^(?=---$)/m);
  return documents.map((document, position) => ({ before: documents[position - 1] ?? '', document }));
}

describe('file facts', () => {
  it('reading never throws, wherever a file is cut off', () => {
    const texts = new Map(fixtures.map((fixture) => [fixture.text, fixture]));
    for (const { name, path, text } of texts.values()) {
      for (const { before, document } of documentsOf(text)) {
        const [start, bytes] = [encode(before).length, encode(before + document)];
        const stride = strideFor(bytes.length);
        for (let cut = start; cut <= bytes.length; cut++) {
          try {
            // Every offset is read; what follows from reading is tried at some.
            if (cut % stride === 0) readAll(path, bytes.subarray(0, cut));
            else expectNoSurrender(readFileFacts(bytes.subarray(0, cut)));
          } catch (error) {
            throw new Error(`${name}, cut off after ${cut - start} bytes of ${document}`, { cause: error });
          }
        }
      }
    }
    assertLaw(
      200,
      fc.property(arbitraryFixture, arbitraryDamage, ({ path, text }, damage) => {
        readAll(path, encode(damageText(text, damage)));
      }),
    );
    assertLaw(
      200,
      fc.property(arbitraryOddity, (text) => readAll('a.yaml', encode(text))),
    );
    const bytesAt = fc.array(fc.tuple(fc.nat(9_999), fc.nat(255)), { minLength: 1, maxLength: 5 });
    assertLaw(
      200,
      fc.property(arbitraryFixture, bytesAt, ({ path, text }, changes) => {
        const bytes = encode(text);
        for (const [at, byte] of changes) bytes[Math.floor((bytes.length * at) / 10_000)] = byte;
        readAll(path, bytes);
      }),
    );
  }, 900_000);

  it('facts survive a round trip through JSON', () => {
    for (const { text } of fixtures) expectRoundTrip(readFileFacts(encode(text)));
    assertLaw(
      300,
      fc.property(arbitraryFixture, arbitraryDamage, ({ text }, damage) => {
        expectRoundTrip(readFileFacts(encode(damageText(text, damage))));
      }),
    );
    assertLaw(
      600,
      fc.property(arbitraryOddity, (text) => expectRoundTrip(readFileFacts(encode(text)))),
    );
  });

  it('comments and line endings change no record', () => {
    for (const { name, text } of fixtures) {
      const facts = readFileFacts(encode(text));
      const windows = readFileFacts(encode(text.replaceAll('\n', '\r\n')));
      expect(windows.records, name).toEqual(facts.records);
      expect(wordsOf(windows), name).toEqual(wordsOf(facts));
      // A key at the left edge stands in no text over several lines, so a comment before it is one.
      const commented = text.replaceAll(/^(?=[a-z_-]+:|---)/gm, '# kind: comment, and "so: on\n');
      expect(readFileFacts(encode(commented)).records, name).toEqual(facts.records);
    }
    assertLaw(
      200,
      fc.property(arbitraryFixture, arbitraryDamage, ({ text }, damage) => {
        const damaged = damageText(text, damage).replaceAll('\r', '');
        const facts = readFileFacts(encode(damaged));
        const windows = readFileFacts(encode(damaged.replaceAll('\n', '\r\n')));
        expect(windows.records).toEqual(facts.records);
        expect(wordsOf(windows)).toEqual(wordsOf(facts));
      }),
    );
    const picks = fc.array(fc.nat(), { minLength: 1, maxLength: 12 });
    assertLaw(
      40,
      fc.property(arbitraryBase, arbitraryLayout, picks, fc.boolean(), (base, layout, comments, isWindows) => {
        for (const text of Object.values(writeFiles(base, layout))) {
          const commented = addComments(text, comments);
          const { records } = readFileFacts(encode(isWindows ? commented.replaceAll('\n', '\r\n') : commented));
          expect(records).toEqual(readFileFacts(encode(text)).records);
        }
      }),
    );
  });
});

/** Between offsets at which everything is tried: one in a small text; in a larger one a prime that leaves twenty or so. */
function strideFor(size: number): number {
  if (size <= 400) return 1;
  let stride = Math.ceil(size / (20 * effort));
  while (!isPrime(stride)) stride++;
  return stride;
}

function isPrime(n: number): boolean {
  for (let factor = 2; factor * factor <= n; factor++) if (n % factor === 0) return false;
  return true;
}

/** The faults without their places, which move with the line endings. */
function wordsOf({ faults }: FileFacts): unknown[] {
  const found: unknown[] = [];
  for (const fault of faults) {
    if ('problem' in fault) found.push(fault);
    else if (fault.kind !== 'not-text') found.push({ ...fault, start: 0, end: 0, firstStart: 0, firstEnd: 0 });
  }
  return found;
}

/** Compares what JSON makes of facts with the facts. A key that holds nothing may be gone, minus zero may be zero. */
function expectRoundTrip(facts: FileFacts): void {
  expect(JSON.parse(JSON.stringify(facts))).toEqual(withoutMinusZero(facts));
}

function withoutMinusZero(value: unknown): unknown {
  if (typeof value !== 'object' || value === null) return value === 0 ? 0 : value;
  if (Array.isArray(value)) return value.map(withoutMinusZero);
  return Object.fromEntries(Object.entries(value).map(([key, inside]) => [key, withoutMinusZero(inside)]));
}
