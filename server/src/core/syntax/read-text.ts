import { readFast } from './read-fast.ts';
import { type Reading, readWithYaml } from './read-with-yaml.ts';

/** Reads a text with the fast reader where that can, else with the recovering one. Never throws. */
export function readText(text: string): Reading & { readonly isFast: boolean } {
  const tape = readFast(text);
  return tape ? { tape, faults: [], isFast: true } : { ...readWithYaml(text), isFast: false };
}
