import type { Finding } from '../core/checks/finding.ts';
import type { BaseSession } from './base-session.ts';
import type { Context } from './feature.ts';

/** All that is found in a base, file by file, once everything is read and checked. */
export async function checkedFindings(
  base: BaseSession,
  { whenIndexed, whenChecked, shownIn, token }: Context,
): Promise<readonly Finding[]> {
  await whenIndexed(base);
  await whenChecked(base, token);
  return [...shownIn(base).values()].flatMap(({ findings }) => findings);
}
