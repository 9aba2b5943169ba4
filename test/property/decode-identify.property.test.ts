import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { swappedPairs } from '../../server/src/core/captures/bytes.ts';
import { decode } from '../../server/src/core/captures/decode.ts';
import { arbitraryIdentify } from '../harness/arbitrary-identify.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { encodeIdentify, type IdentifyInput, toWordsText } from '../harness/encode-identify.ts';
import { asciiBytes, encodeVpd89 } from '../harness/encode-vpd.ts';

const formFactors = ['5.25in', '3.5in', '2.5in', '1.8in', 'under 1.8in'];

/** The values an answer is made of, as they ought to come back. */
function valuesOf({ words: _, hasChecksum: __, formFactor, ...input }: IdentifyInput) {
  const logicalSectorBytes = input.logicalSectorBytes ?? 512;
  return {
    ...input,
    logicalSectorBytes,
    physicalSectorBytes: input.physicalSectorBytes ?? logicalSectorBytes,
    ...(formFactor === undefined ? {} : { formFactor: formFactors[formFactor - 1] }),
  };
}

describe('IDENTIFY DEVICE data', () => {
  it('what was encoded is decoded, in raw bytes, as words in text, and within VPD page 89h', () => {
    assertLaw(
      500,
      fc.property(arbitraryIdentify, fc.integer({ min: 0, max: 5 }), (plain, exponent) => {
        const input = { ...plain, physicalSectorBytes: (plain.logicalSectorBytes ?? 512) * 2 ** exponent };
        const bytes = encodeIdentify(input);
        const decoded = decode(bytes);
        expect(decoded).toEqual({ format: 'ata_identify', values: valuesOf(input), problems: [], unnamed: [] });
        expect(decode(asciiBytes(toWordsText(bytes)))).toEqual(decoded);
        expect(decode(encodeVpd89(bytes))).toEqual({
          ...decoded,
          format: 'vpd_89',
          unnamed: [{ at: 'translator', value: 'linux libata 3.00' }],
        });
      }),
    );
  });

  it('swapping the bytes of every word changes no value and is said', () => {
    assertLaw(
      500,
      fc.property(arbitraryIdentify, (input) => {
        const bytes = encodeIdentify(input);
        const { values, problems } = decode(swappedPairs(bytes));
        expect(values).toEqual(valuesOf(input));
        expect(problems).toEqual([
          {
            severity: 'warning',
            message: 'The two bytes of every word are swapped; they were read the other way round.',
          },
        ]);
      }),
    );
  });

  it('every single flipped bit is noticed by the checksum, or stands in its signature', () => {
    const bytes = encodeIdentify({ serial: 'WRN0A4F2K', model: 'WREN TERN 2', firmware: 'T2.07', lbaCount: 1000 });
    for (let bit = 0; bit < 8 * bytes.length; bit += 1) {
      const damaged = Uint8Array.from(bytes);
      damaged[bit >> 3]! ^= 1 << (bit & 7);
      const { problems, unnamed } = decode(damaged);
      const isNoticed = problems.some(({ severity, message }) => severity === 'error' && message.includes('checksum'));
      expect(isNoticed || unnamed.some(({ at }) => at === 'word 255'), `bit ${bit}`).toBe(true);
    }
  });
});
