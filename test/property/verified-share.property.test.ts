import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { OutcomeRecord } from '../../server/src/core/model/record.ts';
import { verifiedShare } from '../../server/src/core/verdicts/verified-share.ts';

const methods = ['checksum_scrub', 'hash_compare', 'read_pass', 'write_pass', 'mount_only'] as const;
const row = fc.record(
  {
    method: fc.constantFrom(...methods),
    bytes: fc.integer({ min: 0, max: 4e12 }),
    errors: fc.constantFrom(0, 0, 0, 1),
    passes: fc.integer({ min: 1, max: 9 }),
  },
  { requiredKeys: ['method'] },
);
type Row = { readonly method: (typeof methods)[number]; bytes?: number; errors?: number; passes?: number };

function outcomeOf(verify: readonly Row[]): OutcomeRecord {
  return { kind: 'outcome', id: 'one', data: { verify }, unusable: [] };
}

const capacity = fc.integer({ min: 1, max: 4e12 });

describe('verified share', () => {
  it('the share is at least 0 and at most 1', () => {
    fc.assert(
      fc.property(fc.array(row), capacity, (rows, bytes) => {
        const verified = verifiedShare(outcomeOf(rows as Row[]), bytes);
        if (verified.state !== 'share') return;
        expect(verified.share).toBeGreaterThanOrEqual(0);
        expect(verified.share).toBeLessThanOrEqual(1);
      }),
      { seed: 1 },
    );
  });

  it('more passes over the same bytes never raise the share', () => {
    fc.assert(
      fc.property(fc.array(row, { minLength: 1 }), capacity, (rows, bytes) => {
        const before = verifiedShare(outcomeOf(rows as Row[]), bytes);
        const [first, ...rest] = rows as Row[];
        const after = verifiedShare(outcomeOf([{ ...first!, passes: (first?.passes ?? 1) + 1 }, ...rest]), bytes);
        expect(after.state).toBe(before.state);
        if (before.state === 'share' && after.state === 'share') expect(after.share).toBeLessThanOrEqual(before.share);
      }),
      { seed: 2 },
    );
  });

  it('an error in a comparing row leaves no share', () => {
    fc.assert(
      fc.property(fc.array(row), capacity, (rows, bytes) => {
        const withError = [...(rows as Row[]), { method: 'hash_compare', bytes, errors: 1 } as const];
        expect(verifiedShare(outcomeOf(withError), bytes).state).toBe('errors');
      }),
      { seed: 3 },
    );
  });
});
