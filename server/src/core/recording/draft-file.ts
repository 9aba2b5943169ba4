import { planEdits } from '../edits/plan-edits.ts';
import { isRefusal, replaceIn } from '../edits/text-edit.ts';
import type { BaseFile } from '../index/snapshot.ts';
import { readTextFacts } from '../model/file-facts.ts';
import type { AnyRecord } from '../model/record.ts';
import type { Kind } from '../terms/kinds.ts';
import { type Answers, valueOfAnswers } from './answers.ts';

/** A record as it would be read once it is written. */
interface DraftFile {
  readonly text: string;
  readonly file: BaseFile;
  /** Undefined where the answers make none. */
  readonly record: AnyRecord | undefined;
}

/** No file of a base may be named so, since its name begins with a dot. */
const path = '.draft.yaml';

/** The file that answers come to. Without an `id` among them the record has one that no base can have recorded before. */
export function draftFile(kind: Kind, answers: Answers): DraftFile {
  const value = { kind, id: 'draft', ...valueOfAnswers(kind, answers) };
  const planned = planEdits({ tape: { text: '', entries: [], documents: [] }, contentId: '' }, [
    { intent: 'create', value },
  ]);
  const text = isRefusal(planned) ? '' : replaceIn('', planned.edits);
  const facts = readTextFacts(text);
  return { text, file: { path, contentId: '', facts }, record: facts.records[0]?.record };
}
