import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Follows, followsOf, type Trace } from '../../server/src/core/captures/follows.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';

const texts = fc.constantFrom('****4F2K', '****9Q1C', '****F2K', '****C', 'digest:00ff00ff00ff00ff', 'WX4F2K');
const names = fc.constantFrom('500605b0c0ffee00', '500605b0c0ffee11', 'no name');
const counts = fc.constantFrom(0, 4, 9120, 9150, 14_760, 976_773_168, 1_953_525_168);

const traces: fc.Arbitrary<Trace> = fc
  .constantFrom('serial', 'wwn', 'model', 'firmware', 'capacity', 'power_on_hours', 'defect_counts')
  .chain((value) => {
    const isCount = value === 'capacity' || value === 'power_on_hours' || value === 'defect_counts';
    const reports = fc.option<string | number, undefined>(isCount ? counts : value === 'wwn' ? names : texts, {
      nil: undefined,
      freq: 6,
    });
    return fc.record({ value: fc.constant(value), reported: reports, ofPlatters: reports, ofBoard: reports });
  });

const mirrored: Readonly<Record<Follows, Follows>> = {
  platters: 'board',
  board: 'platters',
  same_on_both: 'same_on_both',
  neither: 'neither',
  not_known: 'not_known',
};

describe('what a value follows', () => {
  it('platters and board exchanged, what followed the one follows the other', () => {
    const seen = new Set<Follows>();
    assertLaw(
      600,
      fc.property(traces, (trace) => {
        const follows = followsOf(trace);
        seen.add(follows);
        const exchanged = { ...trace, ofPlatters: trace.ofBoard, ofBoard: trace.ofPlatters };
        expect(followsOf(exchanged)).toBe(mirrored[follows]);
      }),
    );
    expectOften(seen.size, 4);
  });

  it('a value that both halves report follows neither of them visibly', () => {
    assertLaw(
      300,
      fc.property(traces, (trace) => {
        const follows = followsOf({ ...trace, ofBoard: trace.ofPlatters });
        expect(['same_on_both', 'neither', 'not_known']).toContain(follows);
      }),
    );
  });

  it('what is not recorded decides nothing', () => {
    assertLaw(
      300,
      fc.property(traces, fc.constantFrom('reported', 'ofPlatters', 'ofBoard'), (trace, key) => {
        expect(followsOf({ ...trace, [key]: undefined })).toBe('not_known');
      }),
    );
  });

  it('with less time between two looks, no counter stems from more halves', () => {
    const halves = (follows: Follows) =>
      ({ platters: ['platters'], board: ['board'], same_on_both: ['platters', 'board'], neither: [], not_known: [] })[
        follows
      ];
    const hours = fc.record({
      value: fc.constant('power_on_hours' as const),
      reported: fc.nat(2000),
      ofPlatters: fc.nat(2000),
      ofBoard: fc.nat(2000),
    });
    assertLaw(
      500,
      fc.property(hours, fc.nat(1000), fc.nat(1000), (trace, most, more) => {
        const tight = followsOf({ ...trace, hoursSince: { platters: most, board: most } });
        const loose = followsOf({ ...trace, hoursSince: { platters: most + more, board: most + more } });
        expect(halves(loose)).toEqual(expect.arrayContaining(halves(tight)));
      }),
    );
  });
});
