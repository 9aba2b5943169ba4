import { readAnswers } from '../../core/recording/answers.ts';
import { firstPlace } from '../../core/recording/first-place.ts';
import { newRecord } from '../../core/recording/new-record.ts';
import {
  askNext,
  faultOf,
  goBack,
  type Progress,
  type Recording,
  recordedKinds,
  typedAnswer,
} from '../../core/recording/recording.ts';
import { LineIndex } from '../../core/text/line-index.ts';
import type { BaseSession } from '../base-session.ts';
import { type Context, defineFeature } from '../feature.ts';
import { type RecordAnswer, type RecordedFile, type RecordParams, recordRequest } from '../protocol.ts';
import { refused } from '../refused.ts';
import { uriBelow } from '../uris.ts';
import { usableBase } from '../usable-base.ts';

/** Asks for a record, question by question. Whoever asks keeps the answers, so that a recording survives both ends. */
export const record = defineFeature({
  request: recordRequest,
  capabilities: () => ({}),
  answer: async (params, context): Promise<RecordAnswer> => {
    const { kind, uri } = params;
    if (!recordedKinds.includes(kind)) {
      throw refused(`\`${String(kind)}\` is nothing that is asked for.`);
    }
    const base = await usableBase(uri, context);
    const recording: Recording = { kind, snapshot: base.snapshot, today: context.today() };
    const { question, ...rest } = step(recording, params);
    if (question) return { ...rest, question };
    const { answers } = rest;
    await context.whenChecked(base, context.token);
    return { answers, record: await fileOf(recording, { base, answers, taken: params.taken ?? [] }, context) };
  },
});

/** Where the recording stands after what was given, or taken back. */
function step(recording: Recording, { answers: sent, given, isBack }: RecordParams): Progress & { fault?: string } {
  const answers = readAnswers(sent) ?? {};
  if (isBack === true) return askNext(recording, goBack(recording, answers));
  const before = askNext(recording, answers);
  const { question } = before;
  if (!given || !question) return before;
  const answer = 'typed' in given ? typedAnswer(question, given.typed) : given.answer;
  const fault = faultOf(recording, question, answer);
  if (fault !== undefined) return { ...before, fault };
  return askNext(recording, { ...before.answers, [question.name]: answer });
}

interface Finished {
  readonly base: BaseSession;
  readonly answers: RecordAnswer['answers'];
  readonly taken: readonly string[];
}

async function fileOf(
  recording: Recording,
  { base, answers, taken }: Finished,
  { runsOf, inSlices, token }: Context,
): Promise<RecordedFile> {
  const written = newRecord(recording, answers, (id) => taken.includes(id));
  const runs = runsOf(base);
  const offset = runs ? await inSlices(firstPlace(written, runs), () => token.isCancellationRequested) : 0;
  const { id, path, text } = written;
  const position = new LineIndex(text).positionAt(offset);
  return { uri: uriBelow(base.root, path), id, text, position };
}
