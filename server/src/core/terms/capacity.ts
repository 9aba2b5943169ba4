/**
 * Sizes of drives, from what a record says of them.
 * Laws (test/property/capacity.property.test.ts):
 * - the formula gives the same bytes for both sector sizes
 * - the sectors of a nominal size lead back to it, and no other number does
 * - a drive that follows the formula never mismatches its nominal size
 * - the capacity lies in the range the record allows
 */

/** What a record says of a drive's size; undefined where it does not. */
export interface CapacityFacts {
  /** Logical sectors of the whole drive. */
  readonly lbaCount: number | undefined;
  readonly logicalSectorBytes: number | undefined;
  /** Advertised size in units of 10⁹ bytes. */
  readonly nominalGb: number | undefined;
}

/** Sizes in GB between which the formula holds, both included. Source: IDEMA LBA1-03; the upper end from memory. */
const formulaRange = { from: 50, to: 8000 } as const;

/** Sectors at 50 GB, and for each GB more. Source: IDEMA LBA1-02 and LBA1-03. */
const formula = {
  512: { base: 97_696_368, step: 1_953_504 },
  4096: { base: 12_212_046, step: 244_188 },
} as const;

/**
 * Sectors of a drive of this nominal size by the industry's formula; undefined for sizes and sectors the formula does not cover.
 * Source: IDEMA LBA1-03.
 */
export function idemaSectors(nominalGb: number, sectorBytes: number): number | undefined {
  const isCovered = Number.isInteger(nominalGb) && nominalGb >= formulaRange.from && nominalGb <= formulaRange.to;
  if (!isCovered || (sectorBytes !== 512 && sectorBytes !== 4096)) return undefined;
  const { base, step } = formula[sectorBytes];
  return base + step * (nominalGb - formulaRange.from);
}

/** The nominal size in GB whose number of sectors by the formula this is; undefined where it is that of none. Source: IDEMA LBA1-03. */
export function idemaGb(sectors: number, sectorBytes: number): number | undefined {
  if (sectorBytes !== 512 && sectorBytes !== 4096) return undefined;
  const { base, step } = formula[sectorBytes];
  const nominalGb = formulaRange.from + (sectors - base) / step;
  return idemaSectors(nominalGb, sectorBytes) === undefined ? undefined : nominalGb;
}

/** Exact size in bytes; undefined unless sectors and sector size are both known. */
export function exactBytes({ lbaCount, logicalSectorBytes }: CapacityFacts): number | undefined {
  return lbaCount === undefined || logicalSectorBytes === undefined ? undefined : lbaCount * logicalSectorBytes;
}

/** The size in bytes that shares are taken of: the exact one, else the nominal one; undefined where neither is known. */
export function capacityBytes(facts: CapacityFacts): number | undefined {
  return exactBytes(facts) ?? nominalBytes(facts);
}

/**
 * Whether a size in bytes is that of a drive sold as `nominalGb`: within 1 % or 1 GB, whichever is larger.
 * Source: common practice, no source; it lets every size in public logs pass.
 */
export function fitsNominal(bytes: number, nominalGb: number): boolean {
  return Math.abs(bytes - nominalGb * bytesPerGb) <= toleranceBytes(nominalGb);
}

/** Whether exact and nominal size are both known and do not fit together. */
export function isMismatch(facts: CapacityFacts): boolean {
  const exact = exactBytes(facts);
  return exact !== undefined && facts.nominalGb !== undefined && !fitsNominal(exact, facts.nominalGb);
}

/** Whether a size would be right if its sectors were of the other common size: 4,096 bytes to 512. */
export function isOtherSectors(bytes: number, nominalGb: number): boolean {
  return fitsNominal(bytes * sectorFactor, nominalGb) || fitsNominal(bytes / sectorFactor, nominalGb);
}

/**
 * The largest size in bytes the record allows: the exact one, or the nominal one with its tolerance, and of two that do not fit
 * together the larger. Undefined where nothing is known.
 */
export function mostBytes(facts: CapacityFacts): number | undefined {
  const exact = exactBytes(facts);
  const { nominalGb } = facts;
  if (nominalGb === undefined) return exact;
  const most = nominalGb * bytesPerGb + toleranceBytes(nominalGb);
  if (exact === undefined) return most;
  return isMismatch(facts) ? Math.max(exact, most) : exact;
}

/** The smallest size in bytes that may be meant: the capacity, or of two that do not fit together the smaller. */
export function leastBytes(facts: CapacityFacts): number | undefined {
  const capacity = capacityBytes(facts);
  const nominal = nominalBytes(facts);
  if (capacity === undefined || nominal === undefined || !isMismatch(facts)) return capacity;
  return Math.min(capacity, nominal);
}

const bytesPerGb = 1e9;

/** Sectors of 512 bytes in one of 4,096. */
const sectorFactor = 8;

function nominalBytes({ nominalGb }: CapacityFacts): number | undefined {
  return nominalGb === undefined ? undefined : nominalGb * bytesPerGb;
}

function toleranceBytes(nominalGb: number): number {
  return Math.max((nominalGb * bytesPerGb) / 100, bytesPerGb);
}
