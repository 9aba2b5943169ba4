import { isDeepStrictEqual } from 'node:util';
import { expect } from 'vitest';
import { readFast } from '../../server/src/core/syntax/read-fast.ts';
import { readWithYaml } from '../../server/src/core/syntax/read-with-yaml.ts';

/** Whether the fast reader read the text; fails where it read anything else than the recovering reader. */
export function readsAlike(text: string): boolean {
  const fast = readFast(text);
  if (!fast) return false;
  const { tape, faults } = readWithYaml(text);
  expect(faults, text).toEqual([]);
  // An assertion also says where two tapes differ, and takes a hundred times as long.
  if (!isDeepStrictEqual(fast, tape)) expect(fast, text).toEqual(tape);
  return true;
}
