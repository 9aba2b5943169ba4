import type { MakerData } from '../../../../schemas/gen/records.ts';
import { type Day, type DaySpan, doMeet, parseDaySpan } from '../terms/calendar.ts';
import { decodeDateCode } from '../terms/date-code.ts';
import { remembered } from '../terms/remembered.ts';
import type { DriveContext } from './drive-context.ts';

/** A date code as one of the maker's schemes reads it. */
export interface CodeReading {
  readonly span: DaySpan;
  /** Position of the scheme in the maker's list. */
  readonly scheme: number;
}

/** What the maker's schemes make of a drive's date code. */
export type CodeReadings =
  /** No code, no schemes, or a scheme that says too little to be applied. */
  | { readonly state: 'undecided' }
  /** No scheme reads it. `says` is the reason of a scheme whose form fits: "week 54 of 2012". */
  | { readonly state: 'unreadable'; readonly says: string | undefined }
  /** Readings of schemes in use at that time; of all, where none was. At least one. */
  | { readonly state: 'read'; readonly readings: readonly CodeReading[] };

/** Reads a drive's date code by every scheme of its maker. */
export const readDateCode = remembered(({ drive, maker }: DriveContext): CodeReadings => {
  const { date_code: code } = drive.data;
  const schemes = maker?.data.date_code ?? [];
  if (code === undefined || schemes.length === 0) return { state: 'undecided' };
  const results = schemes.map((scheme) => decodeDateCode(code, scheme));
  const readings = results.flatMap((result, scheme) =>
    result.state === 'read' ? [{ span: result.span, scheme }] : [],
  );
  const inUse = readings.filter(({ span, scheme }) => doMeet(span, periodOf(schemes[scheme] ?? {})));
  if (readings.length > 0) return { state: 'read', readings: inUse.length > 0 ? inUse : readings };
  if (results.some((result) => result.state === 'incomplete')) return { state: 'undecided' };
  const [says] = results.flatMap((result) => (result.state === 'no_such_day' ? [result.says] : []));
  return { state: 'unreadable', says };
});

/** The readings of a drive's date code where every one of them contradicts its `made`; else none. */
export const contradictingReadings = remembered((context: DriveContext): readonly CodeReading[] => {
  const made = madeSpanOf(context);
  const code = readDateCode(context);
  if (!made || code.state !== 'read') return [];
  const schemes = context.maker?.data.date_code ?? [];
  const mayReadOtherwise = schemes.some((scheme) => decodeDateCode('', scheme).state === 'incomplete');
  return mayReadOtherwise || code.readings.some(({ span }) => doMeet(span, made)) ? [] : code.readings;
});

/**
 * The spans in which a drive may have been made: its `made`, and where the date code contradicts that, what the code says as well, so
 * that one slip of the pen is reported as what it is and not once more wherever the date is used. None where `made` is not known.
 */
export const madeReadings = remembered((context: DriveContext): readonly DaySpan[] => {
  const made = madeSpanOf(context);
  return made ? [made, ...contradictingReadings(context).map(({ span }) => span)] : [];
});

/** The first day on which a drive may have been made, whichever way its date is read; undefined where that is not known. */
export const earliestMade = remembered((context: DriveContext): Day | undefined => {
  const readings = madeReadings(context);
  return readings.length > 0 ? Math.min(...readings.map(({ first }) => first)) : undefined;
});

/** Whether a drive was used on a day before it can have been made. */
export function isUsedBeforeMade(day: Day, context: DriveContext): boolean {
  const earliest = earliestMade(context);
  return earliest !== undefined && day < earliest;
}

function madeSpanOf({ drive }: DriveContext): DaySpan | undefined {
  return drive.data.made === undefined ? undefined : parseDaySpan(drive.data.made);
}

type Period = Pick<NonNullable<MakerData['date_code']>[number], 'from' | 'to'>;

/** When a scheme was in use; ends that are not recorded are open. */
const periodOf = remembered(({ from, to }: Period): DaySpan => {
  const first = from === undefined ? undefined : parseDaySpan(from)?.first;
  const last = to === undefined ? undefined : parseDaySpan(to)?.last;
  return { first: first ?? Number.NEGATIVE_INFINITY, last: last ?? Number.POSITIVE_INFINITY };
});
