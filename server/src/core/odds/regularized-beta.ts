/**
 * The regularised incomplete beta function: the chance that a beta-distributed share lies at or below x.
 * Laws (test/property/exact-bounds.property.test.ts):
 * - the beta function of whole numbers is a sum of binomial terms
 * - the beta function mirrored is one less itself
 */

/** Probability, 0 to 1, that a share with distribution Beta(a, b) is at most `x`; `a` and `b` above 0. */
export function regularizedBeta(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  // The fraction converges fast on this side of the mean only; the other side is its mirror image.
  if (x > (a + 1) / (a + b + 2)) return 1 - lowerTail(1 - x, b, a);
  return lowerTail(x, a, b);
}

function lowerTail(x: number, a: number, b: number): number {
  const logFront = a * Math.log(x) + b * Math.log1p(-x) - logBeta(a, b);
  return (Math.exp(logFront) * continuedFraction(x, a, b)) / a;
}

/** Steps it takes at most: about the square root of the larger parameter, and a margin. */
const mostSteps = 100_000;

/**
 * The continued fraction of the incomplete beta function, by Lentz's method as modified by Thompson and Barnett.
 * Source: NIST Digital Library of Mathematical Functions, 8.17.22 (from memory); values in test/odds/exact-bounds.test.ts.
 */
function continuedFraction(x: number, a: number, b: number): number {
  let c = 1;
  let d = 1 / awayFromZero(1 - ((a + b) * x) / (a + 1));
  let fraction = d;
  for (let m = 1; m <= mostSteps; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / awayFromZero(1 + even * d);
    c = awayFromZero(1 + even / c);
    fraction *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / awayFromZero(1 + odd * d);
    c = awayFromZero(1 + odd / c);
    fraction *= d * c;
    if (Math.abs(d * c - 1) < Number.EPSILON) break;
  }
  return fraction;
}

function awayFromZero(value: number): number {
  const tiny = 1e-300;
  return Math.abs(value) < tiny ? tiny : value;
}

/** Lanczos' coefficients for g = 7 and nine terms. Source: P. Godfrey, as in many libraries (from memory; tested against factorials). */
const lanczosFirst = 0.99999999999980993;
const lanczos: readonly number[] = [
  676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059, 12.507343278686905,
  -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
];

/** Natural logarithm of the (complete) beta function; `a` and `b` above 0. */
export function logBeta(a: number, b: number): number {
  return logGamma(a) + logGamma(b) - logGamma(a + b);
}

/** Natural logarithm of the gamma function for `z` above 0. */
export function logGamma(z: number): number {
  // Below one half the series loses digits; the recurrence steps over that.
  if (z < 0.5) return logGamma(z + 1) - Math.log(z);
  let sum = lanczosFirst;
  for (let n = 0; n < lanczos.length; n++) sum += (lanczos[n] ?? 0) / (z + n);
  const t = z + 6.5;
  return 0.5 * Math.log(2 * Math.PI) + (z - 0.5) * Math.log(t) - t + Math.log(sum);
}
