import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Capture } from '../../server/src/core/captures/capture-file.ts';
import { afterMasking, readCapture } from '../../server/src/core/captures/read-capture.ts';
import { captureText } from '../../server/src/core/captures/write-capture.ts';
import { captures, serials } from '../harness/arbitrary-capture.ts';
import { assertLaw } from '../harness/assert-law.ts';

const encoder = new TextEncoder();

/** Captures with serial numbers in full here and there. */
const revealing = serials.chain((serial) =>
  captures(fc.constantFrom(serial, '****4F2K')).map((capture) => ({ ...capture, values: { serial } })),
);

/** The capture with what facts say is to be written where a number stands in full. */
function mended(capture: Capture): Capture {
  const copy = structuredClone(capture);
  for (const { path, masked } of readCapture(encoder.encode(captureText(capture))).serials) {
    const steps = path.slice(0, -1);
    const map = steps.reduce<Record<string | number, unknown>>((at, step) => at[step] as never, copy as never);
    if (masked === undefined) delete map[path.at(-1) ?? ''];
    else map[path.at(-1) ?? ''] = masked;
  }
  return copy;
}

describe('capture files', () => {
  it('a capture reads as it was written', () => {
    assertLaw(
      60,
      fc.property(captures(fc.constantFrom('****4F2K', 'NT10')), (capture) => {
        const { values, taken, problems, faults } = readCapture(encoder.encode(captureText(capture)));
        expect(faults).toEqual([]);
        expect({ ...values }).toEqual(capture.values);
        expect(taken).toBe(capture.taken);
        const own = capture.sources.flatMap(({ name, problems: all = [] }) =>
          all.map((one) => ({ ...one, source: name })),
        );
        expect(problems).toEqual([...(capture.problems ?? []), ...own]);
      }),
    );
  });

  it('reading never throws, wherever a file is cut off or damaged', () => {
    const damage = fc.record({ capture: captures(), at: fc.nat(), byte: fc.nat(255), isCut: fc.boolean() });
    assertLaw(
      60,
      fc.property(damage, ({ capture, at, byte, isCut }) => {
        const bytes = encoder.encode(captureText(capture));
        const place = at % bytes.length;
        bytes[place] = byte;
        const facts = readCapture(isCut ? bytes.subarray(0, place) : bytes);
        if (isCut) expect(facts.faults.length).toBeGreaterThan(0);
      }),
    );
  });

  it('facts survive a round trip through JSON', () => {
    assertLaw(
      50,
      fc.property(revealing, (capture) => {
        const facts = readCapture(encoder.encode(captureText(capture)));
        expect(JSON.parse(JSON.stringify(facts))).toEqual(facts);
      }),
    );
  });

  it('what is said of a file once it is masked is what it then says', () => {
    const twoSerials = fc
      .uniqueArray(serials, { minLength: 2, maxLength: 2 })
      .chain((two) => captures(fc.constantFrom(...two)));
    assertLaw(
      200,
      fc.property(twoSerials, (capture) => {
        const after = afterMasking(readCapture(encoder.encode(captureText(capture))));
        expect(after).toEqual(readCapture(encoder.encode(captureText(mended(capture)))));
      }),
    );
  });

  it('what is said to mask a file leaves nothing in it to mask', () => {
    assertLaw(
      50,
      fc.property(revealing, (capture) => {
        const bytes = encoder.encode(captureText(capture));
        expect(readCapture(bytes).serials.length).toBeGreaterThan(0);
        expect(readCapture(encoder.encode(captureText(mended(capture)))).serials).toEqual([]);
      }),
    );
  });
});
