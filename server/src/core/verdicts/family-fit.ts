import { type DaySpan, dayOf, doMeet } from '../terms/calendar.ts';
import { fitsPattern } from '../text/fits-pattern.ts';
import type { DriveContext } from './drive-context.ts';
import { madeReadings } from './made-readings.ts';

/**
 * Whether a drive's model fits none of its family's patterns. Then the drive may be filed under the wrong family, and nothing else
 * about it is held against that family's facts.
 */
export function isModelOutside({ drive, family }: DriveContext): boolean {
  const { model } = drive.data;
  const { models = [] } = family?.data ?? {};
  return model !== undefined && models.length > 0 && !models.some((pattern) => fitsPattern(model, pattern));
}

/** The days in which a family was built, open where an end is not recorded; undefined where neither is, or they contradict each other. */
function familyYears({ family }: DriveContext): DaySpan | undefined {
  const { from, to } = family?.data.made ?? {};
  if (from === undefined && to === undefined) return undefined;
  const first = from === undefined ? Number.NEGATIVE_INFINITY : dayOf(from, 1, 1);
  const last = to === undefined ? Number.POSITIVE_INFINITY : dayOf(to, 12, 31);
  return first === undefined || last === undefined || last < first ? undefined : { first, last };
}

/** Whether a drive was made at a time when its family was not, whichever way its date is read. */
export function isMadeOutside(context: DriveContext): boolean {
  const years = familyYears(context);
  const readings = madeReadings(context);
  return years !== undefined && readings.length > 0 && !readings.some((span) => doMeet(span, years));
}

/** Whether a drive's board is recorded with families and this drive's is not among them. */
export function isBoardOutside({ drive, board }: DriveContext): boolean {
  const { families = [] } = board?.data ?? {};
  return drive.data.family !== undefined && families.length > 0 && !families.includes(drive.data.family);
}
