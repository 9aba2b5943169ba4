import fc from 'fast-check';
import type { IdentifyInput } from './encode-identify.ts';

function text(characters: string, longest: number): fc.Arbitrary<string> {
  return fc
    .array(fc.constantFrom(...characters), { minLength: 1, maxLength: longest })
    .map((list) => list.join('').replace(/^ +| +$/g, ''))
    .filter((joined) => joined !== '');
}

const capitals = 'ABCDEFGHJKLMNPRSTUVWXYZ0123456789';

/** What a drive may say of itself in an answer to IDENTIFY DEVICE, with nothing in it that no drive says. */
export const arbitraryIdentify: fc.Arbitrary<IdentifyInput & { readonly lbaCount: number }> = fc.record(
  {
    serial: text(`${capitals}-`, 20),
    firmware: text(`${capitals}.`, 8),
    // A single character behind a last space is what swapped texts end with as well.
    model: text(`${capitals} -`, 40).filter((model) => model.at(-2) !== ' '),
    wwn: fc
      .array(fc.constantFrom(...'0123456789abcdef'), { minLength: 15, maxLength: 15 })
      .map((list) => `5${list.join('')}`),
    // Powers of two and their neighbours: where numbers of 16, 28 and 32 bits end.
    lbaCount: fc.oneof(
      fc.integer({ min: 1, max: 2 ** 48 - 1 }),
      fc
        .record({ bits: fc.integer({ min: 1, max: 47 }), more: fc.constantFrom(-1, 0, 1) })
        .map(({ bits, more }) => 2 ** bits + more),
    ),
    logicalSectorBytes: fc.constantFrom(512, 520, 4096),
    rpm: fc.oneof(fc.constantFrom(0, 5400, 7200, 15_000), fc.integer({ min: 0x402, max: 0xfffe })),
    formFactor: fc.integer({ min: 1, max: 5 }),
    transport: fc.constantFrom('pata', 'sata'),
    hasChecksum: fc.boolean(),
  },
  { requiredKeys: ['serial', 'model', 'firmware', 'lbaCount'] },
);
