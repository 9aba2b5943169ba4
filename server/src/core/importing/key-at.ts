import { pathOf } from '../recording/answers.ts';
import { findKeyRow, type KeyRow, keyRowsIn } from '../schema/key-rows.ts';
import type { Path } from '../syntax/tape.ts';
import type { Kind } from '../terms/kinds.ts';
import { nearestClause, nearNames } from '../text/near-names.ts';

/** A key that can be filled. */
interface FoundKey {
  /** With dots between the steps of its path. */
  readonly name: string;
  /** Undefined for a key of the shop's own. */
  readonly row: KeyRow | undefined;
}

/** Why a key cannot be filled. */
interface UnknownKey {
  readonly message: string;
  readonly help?: string;
}

/** The key of a kind that is written with dots or as a JSON pointer (RFC 6901). */
export function keyAt(kind: Kind, typed: string): FoundKey | UnknownKey {
  const steps = typed.startsWith('/') ? typed.slice(1).split('/').map(unescaped) : typed.split('.');
  const name = steps.join('.');
  const path = pathOf(name);
  if (name === 'kind' || name === 'id') return { message: `\`${name}\` stands beside \`fields\`, not among them.` };
  if (path.some((step) => typeof step === 'string' && step.startsWith('x-'))) return { name, row: undefined };
  for (const [depth, step] of path.entries()) {
    const above = path.slice(0, depth);
    const parent = findKeyRow(kind, above);
    const isEntry = typeof step === 'number';
    if (isEntry && (parent?.list !== 'yes' || typeof above.at(-1) === 'number')) {
      return { message: `\`${above.join('.') || name}\` is no list, so it has no entry ${step}.` };
    }
    if (isEntry) continue;
    if (parent?.list === 'yes' && typeof above.at(-1) !== 'number') return entryMissing(above, path.slice(depth));
    if (depth > 0 && parent?.node === undefined) return { message: `\`${above.join('.')}\` holds no further keys.` };
    if (findKeyRow(kind, [...above, step]) === undefined) return unknown(kind, above, step);
  }
  const row = findKeyRow(kind, path);
  if (row?.list === 'yes' && row.node !== undefined && typeof path.at(-1) !== 'number') return entryMissing(path, []);
  if (row?.type === 'map')
    return { message: `\`${name}\` is a map; name one of its keys, such as \`${name}.${firstKey(kind, path)}\`.` };
  return { name, row };
}

function unescaped(step: string): string {
  return step.replaceAll('~1', '/').replaceAll('~0', '~');
}

function entryMissing(list: Path, rest: Path): UnknownKey {
  const example = [...list, 0, ...rest].join('.');
  return { message: `\`${list.join('.')}\` is a list; say which entry, as in \`${example}\`.` };
}

function firstKey(kind: Kind, path: Path): string {
  return keyRowsIn(kind, path)[0]?.name ?? 'key';
}

function unknown(kind: Kind, above: Path, step: string): UnknownKey {
  const rows = keyRowsIn(kind, above);
  const where = above.length === 0 ? `A ${kind}` : `\`${above.join('.')}\` of a ${kind}`;
  const nearest = nearestClause(
    nearNames(
      step,
      rows.map((row) => row.name),
    ),
  );
  const message = `${where} has no key \`${step}\`${nearest}.`;
  const node = [kind, ...above.filter((one) => typeof one === 'string')].join('.');
  return { message, ...(nearest === '' ? { help: `swaplore key ${node} lists those there are.` } : {}) };
}
