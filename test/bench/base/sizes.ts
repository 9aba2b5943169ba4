/** How many files and records of each kind a base has. Every family has `drivesPerFamily` drives in its own file. */
export interface Counts {
  readonly makers: number;
  readonly families: number;
  readonly boards: number;
  readonly outcomes: number;
  readonly rules: number;
  /** Lines of the one file that holds everything; undefined where records have files of their own. */
  readonly lines: number | undefined;
}

export const drivesPerFamily = 8;

/** The bases by name: 700, 6,300 and 24,000 files, one of many families tried often, and one file of 5,000 lines. */
export const sizes = {
  S: { makers: 2, families: 29, boards: 88, outcomes: 583, rules: 12, lines: undefined },
  M: { makers: 10, families: 262, boards: 788, outcomes: 5250, rules: 105, lines: undefined },
  L: { makers: 40, families: 1000, boards: 3000, outcomes: 20_000, rules: 400, lines: undefined },
  R: { makers: 20, families: 500, boards: 1500, outcomes: 10_000, rules: 200, lines: undefined },
  big: { makers: 1, families: 3, boards: 9, outcomes: 66, rules: 3, lines: 5000 },
} as const satisfies Record<string, Counts>;

export type Size = keyof typeof sizes;

/** Whether this names a size. */
export function isSize(name: string): name is Size {
  return Object.hasOwn(sizes, name);
}

/** Which of `groups` equal groups a thing belongs to, in order. */
export function groupOf(position: number, things: number, groups: number): number {
  return Math.floor((position * groups) / things);
}

/** The positions of the things in one group; the reverse of `groupOf`. */
export function membersOf(group: number, things: number, groups: number): readonly number[] {
  const first = Math.ceil((group * things) / groups);
  const end = Math.ceil(((group + 1) * things) / groups);
  return Array.from({ length: end - first }, (_, offset) => first + offset);
}
