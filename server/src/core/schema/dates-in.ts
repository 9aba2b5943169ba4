import { textFinder } from './text-finder.ts';

/**
 * The dates in a record's data: days, and the day, week or month something was made in. The schemas say which keys hold one; bounds
 * of ranges are none.
 */
export const datesIn = textFinder(({ format }) => format === 'date' || format === 'day-span');
