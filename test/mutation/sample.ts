/** A mutant as told apart from others. */
export interface Mutant {
  readonly file: string;
  /** Where it begins, both from 0. */
  readonly line: number;
  readonly column: number;
  /** What it puts there. */
  readonly replacement: string;
}

/** Which mutants are tried. */
export interface Sample {
  readonly percent: number;
  /** Another word draws other mutants. */
  readonly seed: string;
}

/** Whether the mutant is among those that are tried: the same ones each time, drawn by a hash. */
export function isInSample({ file, line, column, replacement }: Mutant, { percent, seed }: Sample): boolean {
  let hash = 2_166_136_261;
  // FNV-1a, 32 bits. Source: draft-eastlake-fnv, from memory.
  for (const unit of `${seed}${file.slice(file.lastIndexOf('/core/'))} ${line}:${column} ${replacement}`) {
    hash = Math.imul(hash ^ (unit.codePointAt(0) ?? 0), 16_777_619) >>> 0;
  }
  return (hash >>> 7) % 1000 < percent * 10;
}
