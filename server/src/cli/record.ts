import { join } from 'node:path';
import type { BaseFile } from '../core/index/snapshot.ts';
import { readFileFacts } from '../core/model/file-facts.ts';
import { type Answers, answerTo, readAnswers } from '../core/recording/answers.ts';
import { type NewRecord, newRecord } from '../core/recording/new-record.ts';
import {
  askNext,
  faultOf,
  questionNames,
  type RecordedKind,
  type Recording,
  recordedKinds,
} from '../core/recording/recording.ts';
import { limits } from '../core/syntax/limits.ts';
import { inThousands } from '../core/text/in-thousands.ts';
import { nearestClause, nearNames } from '../core/text/near-names.ts';
import { quotedList } from '../core/text/quoted-list.ts';
import { visible } from '../core/text/visible.ts';
import { contentIdOf } from '../host/content-id.ts';
import { Draft } from '../host/disk/draft.ts';
import { writeNewFile } from '../host/disk/write-new-file.ts';
import { reasonOf } from '../host/system-reason.ts';
import { answerInTerminal } from './answer-in-terminal.ts';
import { type Arguments, type Command, folderOption, noCacheOption, todayOption } from './command.ts';
import { exitCodes, UsageError } from './exit-codes.ts';
import { findingText } from './formats/text.ts';
import { locate, openOneBase, runToEnd, shownFile, shownPath } from './open-base.ts';
import { readSomeBytes } from './read-some-bytes.ts';
import { readToday } from './read-today.ts';
import { type Terminal, toJsonText } from './terminal.ts';

/** `swaplore record`: asks for one outcome or drive and writes it into a file of its own. */
export const record: Command = {
  name: 'record',
  takes: '[KIND]',
  positionals: { min: 0, max: 1 },
  describe: 'Ask for one outcome (or drive), and write it into a new file.',
  options: [
    {
      name: 'from',
      value: 'FILE',
      describe: 'Take the answers from this JSON file, or from standard input if it is -.',
    },
    folderOption,
    todayOption,
    noCacheOption,
  ],
  run: async (args, terminal, program) => {
    const kind = readKind(args);
    const { root, snapshot } = await openOneBase(args, terminal, program);
    const recording: Recording = { kind, snapshot, today: readToday(args) };
    const from = args.values['from'];
    if (typeof from === 'string') {
      const written = write(recording, answersFrom(recording, readAnswerFile(from, terminal), terminal), root);
      return show(recording, written, root, terminal);
    }
    if (terminal.canAsk !== true) {
      throw new UsageError('Nobody can be asked here, for this is no terminal.', 'Give the answers with --from FILE.');
    }
    const draft = program.stateFolder === undefined ? undefined : new Draft(program.stateFolder, root, kind);
    let isKept = draft !== undefined;
    const { answers, isDone } = await answerInTerminal(recording, readBegun(draft), {
      terminal,
      onAnswer: (given) => {
        isKept = draft?.keep(JSON.stringify(given)) ?? false;
      },
    });
    if (!isDone) {
      terminal.err(
        isKept ? 'The answers are kept; the next swaplore record goes on with them.\n' : handedOver(answers),
      );
      return exitCodes.couldNotRun;
    }
    let written: NewRecord;
    try {
      written = write(recording, answers, root);
    } catch (error) {
      if (!isKept) terminal.err(handedOver(answers));
      throw error;
    }
    draft?.remove();
    return show(recording, written, root, terminal);
  },
};

/** Answers that can be kept nowhere, for the person who gave them. */
function handedOver(answers: Answers): string {
  return `The answers cannot be kept here. These are they, for --from:\n${toJsonText(answers)}`;
}

function readKind({ positionals: [typed = recordedKinds[0] ?? ''] }: Arguments): RecordedKind {
  const kind = recordedKinds.find((name) => name === typed);
  if (kind) return kind;
  throw new UsageError(`${typed} is nothing that is asked for.`, `Name one of ${recordedKinds.join(', ')}.`);
}

/** The answers of a recording that was broken off. What is damaged counts as none. */
function readBegun(draft: Draft | undefined): Answers {
  try {
    return readAnswers(JSON.parse(draft?.read() ?? '{}')) ?? {};
  } catch {
    return {};
  }
}

function readAnswerFile(from: string, terminal: Terminal): Answers {
  const shown = from === '-' ? 'Standard input' : from;
  // No answers are longer than the record they make may be.
  const bytes = readSomeBytes(from, limits.fileBytes + 1, terminal);
  if (bytes.length > limits.fileBytes) {
    throw new UsageError(`${shown} has more than ${inThousands(limits.fileBytes)} bytes.`);
  }
  try {
    const answers = readAnswers(JSON.parse(Buffer.from(bytes).toString()));
    if (answers) return answers;
  } catch {
    // Said below.
  }
  throw new UsageError(
    `${shown} is no JSON of answers.`,
    'Give keys and values as in a record, such as {"patient": "d-0117"}.',
  );
}

/** The answers that count. What is asked for and not given is not known, save what the record must have and follows from the rest. */
function answersFrom(recording: Recording, given: Answers, terminal: Terminal): Answers {
  const names = questionNames(recording.kind);
  for (const name of Object.keys(given)) {
    if (names.includes(name)) continue;
    const nearest = nearestClause(nearNames(name, names));
    throw new UsageError(
      `\`${name}\` is nothing that is asked for${nearest}.`,
      'swaplore key NAME explains a key; others can be added to the record afterwards.',
    );
  }
  let answers: Answers = {};
  for (;;) {
    const { question } = askNext(recording, answers);
    if (!question) break;
    const { name, isRequired, usual = null } = question;
    const answer = answerTo(given, name) ?? (isRequired && !Object.hasOwn(given, name) ? usual : null);
    const fault = faultOf(recording, question, answer);
    if (fault !== undefined) throw new UsageError(fault, question.asks);
    answers = { ...answers, [name]: answer };
  }
  const unused = Object.keys(given).filter((name) => !Object.hasOwn(answers, name));
  if (unused.length > 0) {
    const shown = quotedList(unused);
    terminal.err(`swaplore: Left out, since nothing asks for it after the other answers: ${shown}.\n`);
  }
  return answers;
}

/** Says where a record was written, and what is found in it; gives the exit code. */
async function show(
  recording: Recording,
  { path, text }: NewRecord,
  root: string,
  terminal: Terminal,
): Promise<number> {
  const folder = shownPath(root, terminal);
  terminal.out(`${visible(shownFile(folder, path))} written.\n`);
  const bytes = new TextEncoder().encode(text);
  const file: BaseFile = { path, contentId: contentIdOf(bytes), facts: readFileFacts(bytes) };
  const snapshot = recording.snapshot.with([{ path, file }]);
  const found = runToEnd(snapshot, recording.today).filter(({ place }) => place.file === path);
  const findings = await locate(root, found);
  const base = { root: folder };
  for (const finding of findings) terminal.out(`\n${findingText(base, finding, terminal)}\n`);
  return findings.some(({ severity }) => severity === 'error') ? exitCodes.findings : exitCodes.clean;
}

/** Writes the record under the first id whose file nobody has made meanwhile. */
function write(recording: Recording, answers: Answers, root: string): NewRecord {
  const taken = new Set<string>();
  for (;;) {
    const written = newRecord(recording, answers, (id) => taken.has(id));
    try {
      if (writeNewFile(join(root, written.path), written.text)) return written;
    } catch (error) {
      throw new UsageError(
        `${written.path} cannot be written: ${reasonOf(error)}.`,
        'Nothing was written, and no answer is lost.',
      );
    }
    taken.add(written.id);
  }
}
