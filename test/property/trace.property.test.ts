import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { CaptureRole, TracedCapture, TracedCaptures } from '../../server/src/core/captures/assembly.ts';
import type { CaptureValues } from '../../server/src/core/captures/decoded.ts';
import type { Follows } from '../../server/src/core/captures/follows.ts';
import { type TraceResult, traceOf } from '../../server/src/core/captures/trace.ts';
import { assertLaw } from '../harness/assert-law.ts';

const options = { serials: 'masked' } as const;

const some = <Value>(values: fc.Arbitrary<Value>) => fc.option(values, { nil: undefined, freq: 5 });

/** Anything a drive may have said, however little it fits the rest. */
const strange: fc.Arbitrary<TracedCapture> = fc.record({
  values: fc.record({
    serial: some(fc.constantFrom('WRN0A4F2K', 'WRN0B9Q1C', '****4F2K', '****2K', 'digest:00ff00ff00ff00ff')),
    wwn: some(fc.constantFrom('5027ce1b9d229a27', '5027ce1cbd868eb8', '0')),
    model: some(fc.constantFrom('TNS2-500', 'TNS2-1000')),
    firmware: some(fc.constantFrom('1.02', '1.07')),
    lbaCount: some(fc.constantFrom(0, 976_773_168, 1_953_525_168)),
    logicalSectorBytes: some(fc.constantFrom(512, 4096)),
    powerOnHours: some(fc.constantFrom(0, 100, 110, 9000)),
    reallocated: some(fc.nat(3)),
    transport: some(fc.constantFrom('sata', 'usb')),
  }) as fc.Arbitrary<CaptureValues>,
  taken: some(fc.integer({ min: 20_000, max: 20_010 })),
});

const strangers: fc.Arbitrary<TracedCaptures> = fc.record({
  patientBefore: some(strange),
  donorBefore: some(strange),
  after: some(strange),
  otherAfter: some(strange),
});

const mirrored: Readonly<Record<Follows, Follows>> = {
  platters: 'board',
  board: 'platters',
  same_on_both: 'same_on_both',
  neither: 'neither',
  not_known: 'not_known',
};

function followsIn({ values }: TraceResult): Readonly<Record<string, Follows>> {
  return Object.fromEntries(values.map(({ value, follows }) => [value, follows]));
}

/** A real swap: what each half holds, who reports what, and what the assemblies say. */
const swaps = fc
  .record({
    onBoard: fc.subarray(['serial', 'wwn', 'model', 'firmware'] as const),
    hours: fc.constantFrom([100, 20_000] as const, [31_000, 400] as const),
    grown: fc.integer({ min: 1, max: 24 }),
    taken: some(fc.integer({ min: 20_000, max: 20_010 })),
    isSmall: fc.boolean(),
  })
  .map(({ onBoard, hours: [patientHours, donorHours], grown, taken, isSmall }) => {
    const patient: CaptureValues = {
      serial: 'WRN0A4F2K',
      wwn: '5027ce1b9d229a27',
      model: 'TNS2-500',
      firmware: '1.02',
      lbaCount: 976_773_168,
      logicalSectorBytes: 512,
      powerOnHours: patientHours,
      transport: 'sata',
    };
    const donor: CaptureValues = {
      ...patient,
      serial: 'WRN0B9Q1C',
      wwn: '5027ce1cbd868eb8',
      model: 'TNS2-1000',
      firmware: '1.07',
      lbaCount: isSmall ? 976_773_168 : 1_953_525_168,
      powerOnHours: donorHours,
    };
    const assemble = (platters: CaptureValues, board: CaptureValues): TracedCapture => ({
      values: {
        ...platters,
        ...Object.fromEntries(onBoard.map((value) => [value, board[value]])),
        powerOnHours: (platters.powerOnHours ?? 0) + grown,
      },
      taken: taken === undefined ? undefined : taken + 1,
    });
    return {
      onBoard,
      captures: {
        patientBefore: { values: patient, taken },
        donorBefore: { values: donor, taken },
        after: assemble(patient, donor),
        otherAfter: assemble(donor, patient),
      },
    };
  });

const roles: readonly CaptureRole[] = ['patientBefore', 'donorBefore', 'after', 'otherAfter'];

function permuted(captures: TracedCaptures, order: readonly CaptureRole[]): TracedCaptures {
  return Object.fromEntries(order.map((from, position) => [roles[position], captures[from]]));
}

/** Every order of some roles. */
function ordersOf(of: readonly CaptureRole[]): (readonly CaptureRole[])[] {
  if (of.length === 0) return [[]];
  return of.flatMap((first) => ordersOf(of.filter((one) => one !== first)).map((rest) => [first, ...rest]));
}

describe('what became of the values of two drives', () => {
  it('platters and board exchanged, what followed the one follows the other', () => {
    const seen = new Set<Follows>();
    assertLaw(
      500,
      fc.property(strangers, ({ patientBefore, donorBefore, after }) => {
        const one = followsIn(traceOf({ patientBefore, donorBefore, after }, options));
        const other = followsIn(traceOf({ patientBefore, donorBefore, otherAfter: after }, options));
        for (const [value, follows] of Object.entries(one)) {
          seen.add(follows);
          expect(other[value]).toBe(mirrored[follows]);
        }
      }),
    );
    expect(seen.size).toBe(5);
  });

  it('what is not reported decides nothing', () => {
    assertLaw(
      500,
      fc.property(strangers, fc.constantFrom('patientBefore', 'donorBefore'), (captures, role) => {
        const { values } = traceOf({ ...captures, [role]: undefined }, options);
        expect(values.every(({ follows }) => follows === 'not_known')).toBe(true);
      }),
    );
    assertLaw(
      500,
      fc.property(strangers, (captures) => {
        for (const { value, follows, after, otherAfter } of traceOf(captures, options).values) {
          if (after === undefined && otherAfter === undefined) expect(follows).toBe('not_known');
          if (otherAfter !== undefined) continue;
          const alone = followsIn(traceOf({ ...captures, otherAfter: undefined }, options));
          expect(follows).toBe(alone[value] ?? 'not_known');
        }
      }),
    );
  });

  it("captures in each other's place are noticed", () => {
    const three = ordersOf(roles.slice(0, 3)).filter((order) => order.some((role, at) => role !== roles[at]));
    // Patient and donor may be called the other way round, if the assemblies are, too.
    const renamed = 'donorBefore patientBefore otherAfter after';
    const four = ordersOf(roles).filter(
      (order) => order.some((role, at) => role !== roles[at]) && order.join(' ') !== renamed,
    );
    expect([three.length, four.length]).toEqual([5, 22]);
    assertLaw(
      200,
      fc.property(swaps, fc.constantFrom(...three, ...four), ({ captures }, order) => {
        const { problems } = traceOf(permuted(captures, order), options);
        expect(problems.map(({ message }) => message)).not.toEqual([]);
        for (const { message } of problems)
          expect(message).toMatch(/`(?:patient_before|donor_before|after|other_after)`/);
      }),
    );
  });

  it('captures of one swap in their places raise nothing', () => {
    assertLaw(
      200,
      fc.property(swaps, fc.boolean(), ({ captures, onBoard }, isBoth) => {
        const result = traceOf(isBoth ? captures : { ...captures, otherAfter: undefined }, options);
        expect(result.problems).toEqual([]);
        const follows = followsIn(result);
        for (const value of ['serial', 'wwn', 'model', 'firmware'] as const) {
          expect(follows[value]).toBe(onBoard.includes(value) ? 'board' : 'platters');
        }
        expect(follows['power_on_hours']).toBe('platters');
      }),
    );
  });

  it('a serial number stands in the result only as it is to be shown', () => {
    const captures = fc.oneof(
      strangers,
      fc.tuple(swaps, fc.constantFrom(...ordersOf(roles))).map(([swap, order]) => permuted(swap.captures, order)),
    );
    assertLaw(
      500,
      fc.property(captures, (given) => {
        expect(JSON.stringify(traceOf(given, options))).not.toMatch(/WRN0[AB]/);
      }),
    );
  });

  it('never throws', () => {
    assertLaw(
      500,
      fc.property(strangers, (captures) => {
        const { values, problems } = traceOf(captures, options);
        for (const { message } of problems) expect(message).toMatch(/\.$/);
        expect(new Set(values.map(({ value }) => value)).size).toBe(values.length);
      }),
    );
  });
});
