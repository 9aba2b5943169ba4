/** A mutant as told apart from others. */
export interface Mutant {
  readonly file: string;
  /** Where it begins, both from 0. */
  readonly line: number;
  readonly column: number;
  /** What it puts there. */
  readonly replacement: string;
}

/** Whether the mutant is among the share that is tried, in percent: the same ones each time, drawn by a hash. */
export function isInSample({ file, line, column, replacement }: Mutant, percent: number): boolean {
  let hash = 2_166_136_261;
  // FNV-1a, 32 bits. Source: draft-eastlake-fnv, from memory.
  for (const unit of `${file.slice(file.lastIndexOf('/core/'))} ${line}:${column} ${replacement}`) {
    hash = Math.imul(hash ^ (unit.codePointAt(0) ?? 0), 16_777_619) >>> 0;
  }
  return (hash >>> 7) % 1000 < percent * 10;
}
