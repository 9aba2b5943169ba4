import type { Check } from '../core/checks/define-check.ts';
import { checks } from '../core/checks/registry.ts';
import { nearestClause, nearNames } from '../core/text/near-names.ts';
import { UsageError } from './exit-codes.ts';

/** The check of that id. Throws `UsageError` with the nearest ids where there is none. */
export function getCheck(id: string): Check {
  const check = checks.find((candidate) => candidate.check === id);
  if (check) return check;
  const ids = checks.map((candidate) => candidate.check);
  const nearest = nearestClause(nearNames(id, ids));
  throw new UsageError(`Check \`${id}\` is not known${nearest}.`);
}
