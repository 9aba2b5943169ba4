import { type Day, parseDate } from '../core/terms/calendar.ts';
import { systemDay } from '../host/system-day.ts';
import type { Arguments } from './command.ts';
import { UsageError } from './exit-codes.ts';

/** The day of `--today`, else the system's date where the system is. Throws `UsageError` for what is no date. */
export function readToday(args: Arguments): Day {
  const typed = args.values['today'];
  if (typeof typed !== 'string') return systemDay();
  const day = parseDate(typed);
  if (day === undefined)
    throw new UsageError(`--today cannot be ${typed || 'empty'}; a date such as 2026-03-14 is needed.`);
  return day;
}
