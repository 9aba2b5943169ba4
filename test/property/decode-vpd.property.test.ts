import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decode } from '../../server/src/core/captures/decode.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { asciiBytes, type DesignatorInput, encodeVpd83, hexBytes } from '../harness/encode-vpd.ts';

const own = '500005e000530001';

/** Designators that name something else than the drive, or name it in a way that is no world-wide name. */
const others: fc.Arbitrary<readonly DesignatorInput[]> = fc.array<DesignatorInput>(
  fc.oneof(
    fc.record({
      type: fc.integer({ min: 0, max: 15 }),
      codeSet: fc.integer({ min: 0, max: 15 }),
      association: fc.integer({ min: 1, max: 3 }),
      content: fc.uint8Array({ maxLength: 40 }),
    }),
    fc.record({
      type: fc.constantFrom(0, 2, 4, 5, 7, 9),
      codeSet: fc.constantFrom(1, 2, 3),
      content: fc.uint8Array({ maxLength: 40 }),
    }),
    fc.record({
      type: fc.constant(8),
      codeSet: fc.constant(3),
      content: fc.constant(asciiBytes('iqn.2026-03.example')),
    }),
  ),
  { maxLength: 6 },
);

describe('VPD page 83h', () => {
  it("of many designators the world-wide name is the logical unit's, in whichever order they come", () => {
    assertLaw(
      700,
      fc.property(others, fc.nat(6), (list, at) => {
        const designators = list.toSpliced(at, 0, { type: 3, codeSet: 1, association: 0, content: hexBytes(own) });
        const { values, unnamed, problems } = decode(encodeVpd83(designators));
        expect(values).toEqual({ wwn: own });
        expect(problems).toEqual([]);
        expect(unnamed).toHaveLength(list.length);
      }),
    );
  });

  it('a page cut anywhere is never read further than it goes', () => {
    assertLaw(
      500,
      fc.property(others, fc.nat(300), (list, cut) => {
        const page = encodeVpd83(list);
        const length = 5 + (cut % Math.max(1, page.length - 5));
        fc.pre(length < page.length);
        const { format, problems } = decode(page.subarray(0, length));
        expect(format).toBe('vpd_83');
        expect(problems).toContainEqual({
          severity: 'error',
          message: `Only ${length} of ${page.length} bytes are there: the page was cut short.`,
        });
      }),
    );
  });
});
