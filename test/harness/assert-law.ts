import fc from 'fast-check';

/** How much further than usual to look; by hand only: `PROPERTY_EFFORT=20 PROPERTY_SEED=7 npx vitest run test/property`. */
export const effort = Number(process.env['PROPERTY_EFFORT'] ?? 1);

const seed = Number(process.env['PROPERTY_SEED'] ?? 20260314);

/** Longest time for one property: what is lost by it is the last steps towards the smallest counterexample. */
const limitMs = 60_000;

/** Tries a property on `runs` samples, the same ones each time. Throws with the smallest counterexample found. */
export function assertLaw<Sample>(runs: number, property: fc.IProperty<Sample>): void {
  fc.assert(property, { seed, numRuns: Math.ceil(runs * effort), interruptAfterTimeLimit: limitMs * effort });
}
