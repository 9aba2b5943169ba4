import type { DonorRanking } from '../donors/rank-donors.ts';
import { findKeyRow } from '../schema/key-rows.ts';
import { addTo } from '../terms/grouped.ts';
import { inSentence } from '../text/in-sentence.ts';
import { type Examination, mayTakeNextBoard, type ReadingKey, readingKeys } from '../verdicts/examination.ts';

/** What the examination of a patient comes to, and what it means for a swap. The first line is what counts most. */
export function examinationWords({ state }: DonorRanking): string[] {
  const { examination, isMeasuredFirst, mayBeDiode, inside, isOwnBoardGood } = state;
  const warnings = [
    ...(isMeasuredFirst ? ['No board is ranked until windings and head lines are known to be good.'] : []),
    ...uncuredWords(examination),
    ...(mayBeDiode ? [diode] : []),
    ...inside.map(
      ({ outcome, says }) =>
        `${outcome === undefined ? 'Its record' : `Outcome \`${outcome}\``} says that ${says}: that points at heads, media or motor. A board does not cure it, and every powered second can make it worse.`,
    ),
    ...(isOwnBoardGood ? ['Its own board is recorded as good, so it may need no other.'] : []),
  ];
  return [...warnings, ...readingLines(examination, warnings.length === 0)];
}

const diode =
  'A supply line is shorted and nothing else is known to be wrong, so the protection diode may be all. Lifting it costs less than a swap, and leaves the drive unprotected.';

function uncuredWords({ readings }: Examination): string[] {
  return (['motor_windings', 'head_lines'] as const).flatMap((key) => {
    const value = readings[key]?.value;
    if (value === 'shorted')
      return [`${titleOf(key)} are shorted: no board cures that, and the next one may die of it.`];
    return value === 'open' ? [`${titleOf(key)} are open: no board cures that.`] : [];
  });
}

/** The readings by day, latest first, and what was not measured. */
function readingLines(examination: Examination, isCalm: boolean): string[] {
  const { readings, isUnreadable } = examination;
  const days = new Map<string, string[]>();
  for (const key of readingKeys) {
    const reading = readings[key];
    if (!reading) continue;
    addTo(days, reading.on ?? '', `${inSentence(titleOf(key))} \`${reading.value}\``);
  }
  if (days.size === 0)
    return ['No examination is recorded. Before power, measure supply lines, motor windings and head lines.'];
  const isSound = [readings.motor_windings, readings.head_lines].every((reading) => reading?.value === 'ok');
  const isStale = isSound && !isUnreadable && mayTakeNextBoard(examination);
  const missing = (['motor_windings', 'head_lines'] as const).filter((key) => !readings[key]);
  return [
    ...(isCalm && isSound && !isUnreadable ? ['Windings and head lines are good, so a board may be tried.'] : []),
    ...[...days]
      .sort(([a], [b]) => (a < b ? 1 : -1))
      .map(([day, list]) => `${day === '' ? 'On a day that cannot be read' : `Examined ${day}`}: ${list.join(', ')}.`),
    ...(isStale ? ['Windings and head lines have not been measured since.'] : []),
    ...(missing.length > 0 ? [`Not measured: ${missing.map((key) => inSentence(titleOf(key))).join(', ')}.`] : []),
    ...(isUnreadable ? ['Something in its examinations cannot be read, and may say otherwise.'] : []),
  ];
}

function titleOf(key: ReadingKey): string {
  return findKeyRow('drive', ['examined', key])?.title ?? key;
}
