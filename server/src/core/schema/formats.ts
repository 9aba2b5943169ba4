import { parseDate, parseDaySpan } from '../terms/calendar.ts';

/** The text formats the schemas name, each as a test. Used by the generated validators. */
export const formats: Readonly<Record<string, (text: string) => boolean>> = {
  date: (text) => parseDate(text) !== undefined,
  'day-span': (text) => text.includes('-') && parseDaySpan(text) !== undefined,
  'day-span-bound': (text) => parseDaySpan(text) !== undefined,
};
