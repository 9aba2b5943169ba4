import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decode } from '../../server/src/core/captures/decode.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { encodeSmartData } from '../harness/encode-smart-data.ts';

const attributes = fc.uniqueArray(
  fc.record({ id: fc.integer({ min: 1, max: 255 }), raw: fc.integer({ min: 0, max: 2 ** 48 - 1 }) }),
  { selector: ({ id }) => id, minLength: 1, maxLength: 30 },
);

describe('SMART READ DATA', () => {
  it('what was encoded is decoded, raw values of 48 bits exactly', () => {
    assertLaw(
      700,
      fc.property(attributes, (list) => {
        const { format, values, unnamed } = decode(encodeSmartData(list));
        const raw = (id: number): number | undefined => list.find((attribute) => attribute.id === id)?.raw;
        const lowest = (id: number, bits: number): number | undefined => {
          const whole = raw(id);
          return whole === undefined ? undefined : Number(BigInt.asUintN(bits, BigInt(whole)));
        };
        expect(format).toBe('smart_data');
        expect({ ...values }).toMatchObject(
          Object.fromEntries(
            Object.entries({
              reallocated: lowest(5, 16),
              powerOnHours: lowest(9, 24),
              powerCycles: raw(12),
              pending: raw(197),
              offlineUncorrectable: raw(198),
            }).filter(([, value]) => value !== undefined),
          ),
        );
        for (const { at, value } of unnamed) {
          const bytes = value.slice(8, 20).match(/../g) ?? [];
          expect(BigInt(`0x${bytes.reverse().join('')}`)).toBe(BigInt(raw(Number(/\d+/.exec(at)?.[0])) ?? -1));
        }
      }),
    );
  });

  it('every single damaged byte is noticed', () => {
    const bytes = encodeSmartData([5, 9, 12, 194, 197].map((id) => ({ id, raw: 1000 + id })));
    for (let at = 0; at < bytes.length; at += 1) {
      const damaged = Uint8Array.from(bytes);
      damaged[at] = (damaged[at]! + 1 + (at % 255)) % 256;
      const { problems } = decode(damaged);
      expect(
        problems.some(({ severity }) => severity === 'error'),
        `byte ${at}`,
      ).toBe(true);
    }
  });
});
