import fc from 'fast-check';
import { expect } from 'vitest';

/** How much further than usual to look; by hand only: `PROPERTY_EFFORT=20 PROPERTY_SEED=7 npx vitest run test/property`. */
export const effort = Number(process.env['PROPERTY_EFFORT'] ?? 1);

const seed = Number(process.env['PROPERTY_SEED'] ?? 20260314);

/** Longest time for one property. One that is not through by then has failed: it would claim more samples than it tried. */
const limitMs = 300_000;

/** Tries a property on `runs` samples, the same ones each time. Throws, or rejects, with the smallest counterexample found. */
export function assertLaw<Sample>(runs: number, property: fc.IProperty<Sample>): void;
export function assertLaw<Sample>(runs: number, property: fc.IAsyncProperty<Sample>): Promise<void>;
export function assertLaw<Sample>(runs: number, property: fc.IRawProperty<Sample>): Promise<void> | void {
  return fc.assert(property as fc.IProperty<Sample>, {
    seed,
    numRuns: Math.ceil(runs * effort),
    interruptAfterTimeLimit: limitMs * effort,
    markInterruptAsFailure: true,
    // With few samples only whether the law holds is asked, not for the smallest counterexample.
    endOnFailure: effort < 1,
  });
}

/** That a law met what it is about often enough to mean something. With fewer samples than usual nothing is said of it. */
export function expectOften(count: number, moreThan: number): void {
  if (effort >= 1) expect(count).toBeGreaterThan(moreThan);
}
