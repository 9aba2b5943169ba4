import { findCoverage } from './coverage.ts';
import type { BytesTarget } from './target.ts';

/** Most bytes, and most inputs, the repository keeps for one target. */
const [mostBytes, mostInputs] = [4_000, 24];

/**
 * Few inputs that together reach much of what all do: one after the other the one that adds most, as far as they fit. None where blocks
 * are not counted.
 */
export function minimized(target: BytesTarget, inputs: readonly Uint8Array[]): readonly Uint8Array[] {
  const coverage = findCoverage();
  if (!coverage) return [];
  const left = inputs.map((input) => {
    coverage.begin();
    target.run(input);
    return { input, entered: coverage.entered() };
  });
  const covered = new Set<number>();
  const kept: Uint8Array[] = [];
  for (let bytes = 0; kept.length < mostInputs; ) {
    const ranked = left
      .filter(({ input }) => bytes + input.length <= mostBytes)
      .map((one) => ({ ...one, adds: one.entered.filter((block) => !covered.has(block)).length }))
      .sort((a, b) => b.adds - a.adds || a.input.length - b.input.length);
    const [best] = ranked;
    if (!best || best.adds === 0) break;
    for (const block of best.entered) covered.add(block);
    kept.push(best.input);
    bytes += best.input.length;
  }
  return kept;
}
