import type { BaseSession } from './base-session.ts';

/** The innermost base in whose folder an address lies; undefined where there is none. A base's own folder does not lie in it. */
export function baseAround(bases: readonly BaseSession[], address: string): BaseSession | undefined {
  const around = bases.filter(({ root }) => address.startsWith(`${root}/`));
  return around.sort((a, b) => b.root.length - a.root.length)[0];
}
