import {
  autocomplete,
  type CANCEL_SYMBOL,
  intro,
  isCancel,
  log,
  multiselect,
  outro,
  S_BAR,
  select,
  text,
} from '@clack/prompts';
import type { Answer, Answers } from '../core/recording/answers.ts';
import type { Item, Question } from '../core/recording/question.ts';
import { askNext, faultOf, goBack, type Recording, typedAnswer } from '../core/recording/recording.ts';
import { goOnQuestion, recordingWords } from '../core/recording/words.ts';
import { wrapText } from '../core/reports/render-text.ts';
import { visible } from '../core/text/visible.ts';
import { styled, type Terminal } from './terminal.ts';

/** What is typed, or chosen, to have the question before asked again. */
const back = '<';

/** From so many items on, typing narrows them down. */
const mostListed = 12;

/** What becomes of a recording in a terminal. */
export interface Asked {
  readonly answers: Answers;
  /** Whether all was asked; else somebody stopped. */
  readonly isDone: boolean;
}

/** Asks question after question until all are answered or somebody stops. `onAnswer` is called after each step, also back. */
export async function answerInTerminal(
  recording: Recording,
  begun: Answers,
  { terminal, onAnswer }: { readonly terminal: Terminal; readonly onAnswer: (answers: Answers) => void },
): Promise<Asked> {
  intro(
    `${styled(terminal, 'bold', `Record: ${recording.kind}`)}  Enter goes on, ${back} goes back, Esc stops and keeps what was answered.`,
  );
  const isBegun = Object.keys(begun).length > 0;
  const goesOn = isBegun ? await confirmGoingOn(recording.kind) : true;
  if (isCancel(goesOn)) return { answers: begun, isDone: false };
  for (let answers = goesOn ? begun : {}; ; ) {
    const { question, answers: kept } = askNext(recording, answers);
    if (!question) return { answers: kept, isDone: true };
    const answer = await ask(recording, question, terminal);
    if (isCancel(answer)) {
      outro('Stopped.');
      return { answers: kept, isDone: false };
    }
    answers = answer === back ? goBack(recording, kept) : { ...kept, [question.name]: answer };
    onAnswer(answers);
  }
}

function confirmGoingOn(kind: string): Promise<boolean | typeof CANCEL_SYMBOL> {
  return select({
    message: goOnQuestion(kind),
    options: [
      { value: true, label: recordingWords.goOn },
      { value: false, label: recordingWords.beginAnew },
    ],
  });
}

type Given = Answer | typeof back | typeof CANCEL_SYMBOL;

async function ask(recording: Recording, question: Question, terminal: Terminal): Promise<Given> {
  const wrapped = (words: string): string => wrapText(visible(words), terminal.columns - 4).join('\n');
  for (const caution of question.cautions) log.warn(wrapped(caution));
  const help = question.help === '' ? '' : `\n${styled(terminal, 'dim', wrapped(question.help))}`;
  const message = `${wrapped(question.asks)}${help}`;
  switch (question.input.kind) {
    case 'choice':
      return chooseOne(message, question.input.items);
    case 'choices':
      return chooseSeveral(message, question.input.items);
    default:
      return type(message, recording, question);
  }
}

interface Option<Value> {
  readonly value: Value;
  readonly label: string;
  readonly hint?: string;
}

/** Positions stand for the items, as terminals choose among texts and numbers only. */
function optionsOf(items: readonly Item[]): Option<number>[] {
  return items.map(({ label, detail }, value) => ({
    value,
    label: visible(label),
    ...(detail === '' ? {} : { hint: visible(detail) }),
  }));
}

async function chooseOne(message: string, items: readonly Item[]): Promise<Given> {
  const options = [...optionsOf(items), { value: items.length, label: `${back} go back` }];
  const initialValue = Math.max(
    items.findIndex(({ isUsual }) => isUsual),
    0,
  );
  const asked = { options, initialValue, maxItems: mostListed };
  const isLong = items.length > mostListed;
  const chosen = isLong
    ? await autocomplete({ ...asked, message: framed(message) })
    : await select({ ...asked, message });
  if (isCancel(chosen)) return chosen;
  return chosen === items.length ? back : (items[chosen]?.answer ?? null);
}

async function chooseSeveral(message: string, items: readonly Item[]): Promise<Given> {
  const chosen = await multiselect({
    message: `${message}\nSpace marks. ${recordingWords.markNothing}`,
    options: [...optionsOf(items), { value: items.length, label: `${back} go back` }],
    initialValues: items.flatMap(({ isUsual }, position) => (isUsual ? position : [])),
    required: false,
  });
  if (isCancel(chosen)) return chosen;
  if (chosen.includes(items.length)) return back;
  const answers = chosen.flatMap((position) => items[position]?.answer ?? []).map(String);
  return answers.length > 0 ? answers : null;
}

/** Some questions go on over lines without the frame beside them. */
function framed(message: string): string {
  return message.replaceAll('\n', `\n${S_BAR}  `);
}

async function type(message: string, recording: Recording, question: Question): Promise<Given> {
  const { usual = null, input } = question;
  const unit = 'unit' in input && input.unit !== undefined ? ` (${input.unit})` : '';
  const typed = await text({
    message: framed(message + unit),
    placeholder: recordingWords.typeNothing,
    initialValue: usual === null ? '' : String(usual),
    validate: (value = '') =>
      value.trim() === back ? undefined : faultOf(recording, question, typedAnswer(question, value)),
  });
  if (isCancel(typed)) return typed;
  return typed.trim() === back ? back : typedAnswer(question, typed);
}
