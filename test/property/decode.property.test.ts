import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decode } from '../../server/src/core/captures/decode.ts';
import { captureFormats } from '../harness/arbitrary-capture.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { captureFixture, identifyFixtures, vpdFixtures } from '../harness/capture-fixtures.ts';
import { encodeIdentify } from '../harness/encode-identify.ts';
import { asciiBytes, encodeVpd89, hexBytes } from '../harness/encode-vpd.ts';

const identify = encodeIdentify({ serial: 'WRN0A4F2K', model: 'WREN TERN 2', firmware: 'T2.07', lbaCount: 1000 });

const json = [
  '{"smartctl":{"exit_status":0},"device":{"protocol":"ATA","type":"sat"},"wwn":{"naa":5,"oui":94,"id":1},"ata_smart_attributes":{"table":[{"id":5,"raw":{"value":8}}]}}',
  '{"blockdevices":[{"name":"sda","type":"disk","size":512000,"log-sec":512,"wwn":"0x500005e000530001","rota":false}]}',
  '{"capture":1,"values":{"serial":"****0A4F"},"sources":[]}',
];

/** Something of every form; of those that take longest, one. */
const seeds: readonly Uint8Array[] = [
  identify,
  encodeVpd89(identify),
  captureFixture('captures/smart-data.bin'),
  ...vpdFixtures().map(({ hex }) => hexBytes(hex.replace(/\s/g, ''))),
  ...identifyFixtures()
    .slice(0, 1)
    .map(({ words }) => asciiBytes(words)),
  ...json.map(asciiBytes),
];

/** Numbers that look random and are the same each time. Source: Marsaglia 2003, xorshift with 13, 17, 5. */
function numbers(seed: number): () => number {
  let state = seed;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return state >>> 0;
  };
}

/** Bytes of no form at all, of a form with bytes changed, cut short, or of two forms joined. */
function damagedBytes(next: () => number): Uint8Array {
  const pick = (): Uint8Array => seeds[next() % seeds.length]!;
  const kind = next() % 8;
  if (kind === 0) return Uint8Array.from({ length: next() % 600 }, () => next() % 256);
  if (kind === 1) return Uint8Array.from([...pick().subarray(0, next() % 300), ...pick().subarray(next() % 300)]);
  const bytes = Uint8Array.from(pick());
  for (let changes = next() % 6; changes > 0; changes -= 1) bytes[next() % bytes.length] = next() % 256;
  return kind < 5 ? bytes : bytes.subarray(0, next() % (bytes.length + 1));
}

describe('decoding', () => {
  it('random and damaged bytes are answered, never with an exception, and with a problem wherever nothing is known', () => {
    const next = numbers(20_260_314);
    const seen = new Set<string | undefined>();
    for (let round = 0; round < 100_000; round += 1) {
      const bytes = damagedBytes(next);
      const { format, values, problems, unnamed } = decode(bytes);
      seen.add(format);
      if (format === undefined && (problems.length !== 1 || unnamed.length > 0)) {
        throw new Error(`Nothing is known of ${Buffer.from(bytes).toString('hex')}, and that is not said once.`);
      }
      for (const [key, value] of Object.entries(values)) {
        const isFit =
          typeof value === 'string'
            ? value !== '' && value === value.trim()
            : Number.isSafeInteger(value) && value >= 0;
        if (!isFit) throw new Error(`\`${key}\` is ${JSON.stringify(value)} in ${Buffer.from(bytes).toString('hex')}.`);
      }
      for (const { message } of problems) {
        if (!/^.*\.$/s.test(message)) throw new Error(`This is no sentence: ${message}`);
      }
    }
    expect([...seen].sort()).toEqual([...captureFormats, undefined].sort());
  });

  it('the answer is plain data: the same for the same bytes', () => {
    assertLaw(
      500,
      fc.property(fc.integer({ min: 1 }), (seed) => {
        const bytes = damagedBytes(numbers(seed));
        const decoded = decode(bytes);
        expect(decode(Uint8Array.from(bytes))).toEqual(decoded);
        expect(JSON.parse(JSON.stringify(decoded))).toEqual(JSON.parse(JSON.stringify({ ...decoded })));
        expect(structuredClone(decoded)).toEqual(decoded);
      }),
    );
  });
});
