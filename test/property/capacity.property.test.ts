import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  capacityBytes,
  exactBytes,
  idemaGb,
  idemaSectors,
  isMismatch,
  leastBytes,
  mostBytes,
} from '../../server/src/core/terms/capacity.ts';
import { assertLaw } from '../harness/assert-law.ts';

const gb = fc.integer({ min: 50, max: 8000 });
const facts = fc.record({
  lbaCount: fc.option(fc.integer({ min: 1, max: 4e10 }), { nil: undefined }),
  logicalSectorBytes: fc.option(fc.constantFrom(512, 520, 4096), { nil: undefined }),
  nominalGb: fc.option(fc.integer({ min: 1, max: 20_000 }), { nil: undefined }),
});

describe('capacity', () => {
  it('the formula gives the same bytes for both sector sizes', () => {
    fc.assert(
      fc.property(gb, (nominalGb) => {
        expect((idemaSectors(nominalGb, 512) ?? 0) * 512).toBe((idemaSectors(nominalGb, 4096) ?? 0) * 4096);
      }),
      { seed: 1 },
    );
  });

  it('the sectors of a nominal size lead back to it, and no other number does', () => {
    assertLaw(
      1000,
      fc.property(gb, fc.constantFrom(512, 4096), fc.integer({ min: 1, max: 244_187 }), (nominalGb, sector, off) => {
        const sectors = idemaSectors(nominalGb, sector) ?? 0;
        expect(idemaGb(sectors, sector)).toBe(nominalGb);
        expect(idemaGb(sectors + off, sector)).toBeUndefined();
      }),
    );
  });

  it('a drive that follows the formula never mismatches its nominal size', () => {
    fc.assert(
      fc.property(gb, fc.constantFrom(512, 4096), (nominalGb, logicalSectorBytes) => {
        const lbaCount = idemaSectors(nominalGb, logicalSectorBytes);
        expect(isMismatch({ lbaCount, logicalSectorBytes, nominalGb })).toBe(false);
      }),
      { seed: 2 },
    );
  });

  it('the capacity lies in the range the record allows', () => {
    fc.assert(
      fc.property(facts, (recorded) => {
        const capacity = capacityBytes(recorded);
        const known = capacity !== undefined;
        expect([exactBytes(recorded), recorded.nominalGb].some((size) => size !== undefined)).toBe(known);
        expect([mostBytes(recorded) !== undefined, leastBytes(recorded) !== undefined]).toEqual([known, known]);
        if (capacity === undefined) return;
        expect(leastBytes(recorded)).toBeLessThanOrEqual(capacity);
        expect(mostBytes(recorded)).toBeGreaterThanOrEqual(capacity);
      }),
      { seed: 3 },
    );
  });
});
