import type { BaseSession } from './base-session.ts';
import { baseMeant } from './bases-meant.ts';
import type { Surroundings } from './feature.ts';
import { requireUsable } from './require-usable.ts';

/** The base around an address, or the only one, once it is read whole. Throws the answer where there is none, or none that can be used. */
export async function usableBase(
  uri: string | undefined,
  { allBases, whenIndexed }: Pick<Surroundings, 'allBases' | 'whenIndexed'>,
): Promise<BaseSession> {
  const base = baseMeant(await allBases(), uri);
  await whenIndexed(base);
  requireUsable(base);
  return base;
}
