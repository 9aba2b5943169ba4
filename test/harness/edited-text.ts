import type { Intent, Value, ValueMap } from '../../server/src/core/edits/intent.ts';
import { planEdits } from '../../server/src/core/edits/plan-edits.ts';
import { isRefusal, replaceIn } from '../../server/src/core/edits/text-edit.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import type { Path } from '../../server/src/core/syntax/tape.ts';

/** The text after the intents, or why it stays as it is. */
export function edited(text: string, ...intents: readonly Intent[]): string {
  const planned = planEdits({ tape: readText(text).tape, contentId: 'c' }, intents);
  return isRefusal(planned) ? planned.refused : replaceIn(text, planned.edits);
}

// Intents on the first document of a text, unless another is named.
export const set = (path: Path, value: Value, document = 0): Intent => ({ intent: 'set', document, path, value });
export const insert = (path: Path, value: Value): Intent => ({ intent: 'insert', document: 0, path, value });
export const remove = (...path: Path): Intent => ({ intent: 'remove', document: 0, path });
export const rename = (path: Path, name: string, document = 0): Intent => ({
  intent: 'rename',
  document,
  path,
  name,
});
export const sort = (...path: Path): Intent => ({ intent: 'sort', document: 0, path });
export const create = (value: ValueMap): Intent => ({ intent: 'create', value });
