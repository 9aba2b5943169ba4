/**
 * How far an assembly came, lowest first.
 * Source: common practice, no source; the order is the order in which a bench sees them.
 */
export const stages = [
  { name: 'nothing', meaning: 'No spin-up.' },
  { name: 'spins', meaning: 'The motor runs up.' },
  {
    name: 'ready',
    meaning: 'Up to speed, heads loaded, no repeated clicking, and it does not stop again.',
  },
  {
    name: 'detected',
    meaning:
      "The host lists the drive's own model name and full capacity, not a family alias, zero, or a bridge's name.",
  },
  {
    name: 'reads',
    meaning:
      'Sectors from start, middle and end come back and show structure, such as a partition table or known text.',
  },
  {
    name: 'verified',
    meaning: "Content compared without error over at least the base's `verified_share` of the capacity.",
  },
] as const;

/** The name of a stage. */
export type Stage = (typeof stages)[number]['name'];

const ranks: ReadonlyMap<string, number> = new Map(stages.map((stage, rank) => [stage.name, rank]));

/** Position of a stage in the order, 0 (`nothing`) to 5 (`verified`). */
function rankOf(stage: Stage): number {
  return ranks.get(stage) ?? 0;
}

/** Whether `reached` is at or above `stage`. */
export function isAtLeast(reached: Stage, stage: Stage): boolean {
  return rankOf(reached) >= rankOf(stage);
}
