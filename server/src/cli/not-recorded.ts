import type { Snapshot } from '../core/index/snapshot.ts';
import { nearestClause, nearNames } from '../core/text/near-names.ts';
import { UsageError } from './exit-codes.ts';

const titles = { drive: 'Drive', family: 'Family', outcome: 'Outcome' } as const;

/** Why a command cannot run that was given the id of a record which the base does not have. */
export function notRecorded(kind: keyof typeof titles, id: string, snapshot: Snapshot): UsageError {
  const ids = snapshot.records(kind).map((record) => record.id);
  const nearest = nearestClause(nearNames(id, ids));
  return new UsageError(`${titles[kind]} \`${id}\` is not recorded in this base${nearest}.`);
}
