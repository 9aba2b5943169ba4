import { type Kind, kinds } from '../terms/kinds.ts';
import type { BareId } from './bare-id.ts';

/**
 * The ids of a text that YAML cannot read: lines `kind:` and `id:` at the left edge, document by document. Crude on purpose, for an
 * unclosed quote swallows what a parser would need; a reference to such an id must not become a second fault.
 */
export function recoverIds(text: string): BareId[] {
  return text.split(/^---.*$/m).flatMap((part) => {
    const id = lineValue(part, 'id');
    if (id === undefined) return [];
    const kind = lineValue(part, 'kind');
    return [{ kind: kinds.find((name: Kind) => name === kind), id }];
  });
}

function lineValue(part: string, key: string): string | undefined {
  return new RegExp(`^${key}:[ \\t]*["']?([a-z0-9-]+)`, 'm').exec(part)?.[1];
}
