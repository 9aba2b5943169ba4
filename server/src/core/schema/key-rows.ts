import { type KeyRow, keyNodes } from '../../../../schemas/gen/key-table.ts';
import type { Path } from '../syntax/tape.ts';

/** What the schemas say of every key: the rows of each map, by kind or by path, such as `drive.board`. */
export { type KeyRow, keyNodes };

/** The row of the key a path ends in, list positions left out; undefined for keys no schema knows. `node` is a kind or `config`. */
export function findKeyRow(node: string, path: Path): KeyRow | undefined {
  let rows = keyNodes[node];
  let row: KeyRow | undefined;
  for (const step of path) {
    if (typeof step === 'number') continue;
    row = rows?.find((candidate) => candidate.name === step);
    rows = row?.node === undefined ? undefined : keyNodes[row.node];
  }
  return row;
}

/** The rows of the keys a map at this path may hold; empty where the path leads to no map. */
export function keyRowsIn(node: string, path: Path): readonly KeyRow[] {
  if (path.every((step) => typeof step === 'number')) return keyNodes[node] ?? [];
  const inner = findKeyRow(node, path)?.node;
  return inner === undefined ? [] : (keyNodes[inner] ?? []);
}
