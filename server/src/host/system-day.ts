import { type Day, dayOf } from '../core/terms/calendar.ts';

/** The system's date where the system is. */
export function systemDay(): Day {
  const now = new Date();
  return dayOf(now.getFullYear(), now.getMonth() + 1, now.getDate()) ?? 0;
}
