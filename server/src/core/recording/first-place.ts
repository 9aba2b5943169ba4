import { spanOf } from '../checks/resolve-place.ts';
import { findingsOf } from '../checks/run-checks.ts';
import { type CheckedText, checkEdits } from '../features/checked-text.ts';
import { readText } from '../syntax/read-text.ts';
import type { NewRecord } from './new-record.ts';

/** The offset in a record about to be written at which its first finding stands; its end where nothing is found. `runs` are of the base without it. */
export function* firstPlace({ path, text }: NewRecord, runs: CheckedText['runs']): Generator<undefined, number> {
  const none = { tape: readText('').tape, contentId: '' };
  const { text: written, runs: after } = yield* checkEdits({ path, text: none, runs }, [{ start: 0, end: 0, text }]);
  const offsets = after
    .flatMap(findingsOf)
    .filter(({ place }) => place.file === path)
    .map(({ place }) => spanOf(written.tape, place.target).start);
  return offsets.length > 0 ? Math.min(...offsets) : text.length;
}
