import type { ComparableKey } from '../../../../schemas/gen/key-table.ts';

/**
 * Keys that say nothing of a donor's board itself. Where the patient's own ROM came along, its heads and platters are not what the
 * board was made for, and these keys can only stand for a variant of the board that nobody recorded. Source: common practice, no source.
 */
export const proxyKeys = ['site', 'heads', 'head_map', 'head_stack_code', 'preamp'] as const satisfies ComparableKey[];

/** Whether a key can only stand for a variant of the board. */
export function isProxyKey(key: ComparableKey): boolean {
  return proxyKeys.some((proxy) => proxy === key);
}
