/**
 * How a record is asked for, question by question: one definition for the editor and the terminal. What is asked next follows from the
 * base, the day and the answers so far and from nothing else, so that going back is to take an answer away and resuming is to keep them.
 * Laws (test/property/recording.property.test.ts):
 * - every question is asked once, and the questions come to an end
 * - going back and answering again leads to where one was
 * - answers to questions that are not asked change nothing
 * - what is accepted breaks no schema and leads nowhere unrecorded
 * - what is not known is not written
 */
import { describeProblem } from '../checks/schema.ts';
import { recordBrief } from '../features/record-brief.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, isRetracted } from '../model/record.ts';
import { findKeyRow, type KeyRow } from '../schema/key-rows.ts';
import type { Day } from '../terms/calendar.ts';
import { nearestClause, nearNames } from '../text/near-names.ts';
import { type Answer, type Answers, answerTo, pathOf } from './answers.ts';
import { Bench } from './bench.ts';
import { cautionsBefore } from './cautions.ts';
import { draftFile } from './draft-file.ts';
import { driveSteps } from './drive-steps.ts';
import { outcomeSteps } from './outcome-steps.ts';
import type { Choice, Input, Question } from './question.ts';
import type { Step } from './step.ts';

/** The kinds of record that are asked for, with their steps. */
const stepsByKind = { outcome: outcomeSteps, drive: driveSteps } as const;

/** A kind of record that is asked for. */
export type RecordedKind = keyof typeof stepsByKind;

/** All of them, the one that is recorded most first. */
export const recordedKinds = Object.keys(stepsByKind) as readonly RecordedKind[];

/** Names of all questions a recording of this kind may ask, in order. */
export function questionNames(kind: RecordedKind): readonly string[] {
  return stepsByKind[kind].map(({ name }) => name);
}

/** What is being recorded, and against what. */
export interface Recording {
  readonly kind: RecordedKind;
  readonly snapshot: Snapshot;
  readonly today: Day;
}

/** Where a recording stands. */
export interface Progress {
  /** The answers that count, in the order of their questions. */
  readonly answers: Answers;
  /** What is asked next; undefined at the end. */
  readonly question: Question | undefined;
}

/** What is asked after these answers. Those to questions that are not asked, or no longer, are left out. */
export function askNext(recording: Recording, given: Answers): Progress {
  const { kind, snapshot, today } = recording;
  let bench = new Bench(snapshot, today, {});
  for (const step of stepsByKind[kind]) {
    if (step.isAsked?.(bench) === false) continue;
    const answer = answerTo(given, step.name);
    if (answer === undefined) return { answers: bench.answers, question: questionOf(kind, step, bench) };
    bench = new Bench(snapshot, today, { ...bench.answers, [step.name]: answer });
  }
  return { answers: bench.answers, question: undefined };
}

/** The answer that a text typed in comes to: a number where one is asked for and it is one; not known where nothing is typed. */
export function typedAnswer({ input }: Question, typed: string): Answer {
  const text = typed.trim();
  if (text === '') return null;
  return input.kind === 'number' && /^-?\d+(?:\.\d+)?$/.test(text) ? Number(text) : text;
}

/** The answers without the last that counts. */
export function goBack(recording: Recording, given: Answers): Answers {
  return Object.fromEntries(Object.entries(askNext(recording, given).answers).slice(0, -1));
}

/** What is wrong with an answer, in a sentence; undefined where nothing is. Not to know is always an answer. */
export function faultOf({ kind, snapshot }: Recording, { name, input }: Question, answer: Answer): string | undefined {
  if (answer === null) return undefined;
  const row = rowOf(kind, name);
  const key = row?.name ?? name;
  const fault = draftFile(kind, { [name]: answer }).file.facts.faults.find(
    (found) => found.kind === 'schema' && found.path.join('.').startsWith(name),
  );
  if (fault?.kind === 'schema') return describeProblem(key, fault.problem, `The ${kind}`).message;
  if (!('items' in input)) return undefined;
  const offered = input.items.map((item) => item.answer);
  const odd = (typeof answer === 'object' ? answer : [answer]).find((one) => !offered.some((other) => other === one));
  if (odd === undefined) return undefined;
  // The schema has nothing against it, so it is the base that does not offer it.
  const { refersTo } = row ?? {};
  const nearest = nearestClause(nearNames(String(odd), offered.map(String)));
  const isThere = refersTo !== undefined && snapshot.findAny(refersTo, String(odd)) !== undefined;
  const problem = isThere ? 'cannot be taken here' : 'is not recorded in this base';
  const what = refersTo === undefined ? '' : `${refersTo} `;
  return `\`${key}\`: ${what}\`${String(odd)}\` ${problem}${nearest}.`;
}

function rowOf(kind: RecordedKind, name: string): KeyRow | undefined {
  return findKeyRow(kind, pathOf(name));
}

function questionOf(kind: RecordedKind, step: Step, bench: Bench): Question {
  const row = rowOf(kind, step.name);
  const usual = step.usual?.(bench);
  return {
    name: step.name,
    position: Object.keys(bench.answers).length + 1,
    asks: step.asks,
    help: [row?.where, step.adds?.(bench)].filter((part) => part !== undefined).join(' '),
    input: inputOf(row, step, { bench, usual }),
    ...(usual === undefined ? {} : { usual }),
    isRequired: row?.required === true,
    cautions: cautionsBefore(step.name, bench),
  };
}

function inputOf(
  row: KeyRow | undefined,
  step: Step,
  { bench, usual }: { readonly bench: Bench; readonly usual: Answer | undefined },
): Input {
  if (!row) return { kind: 'text' };
  const isUsual = (value: Choice['value']): boolean =>
    typeof usual === 'object' ? (usual?.some((one) => one === value) ?? false) : usual === value;
  const items = (step.choices?.(bench) ?? choicesOf(row, bench.snapshot))?.map((choice) => ({
    label: labelOf(choice),
    detail: choice.detail,
    answer: choice.value,
    isUsual: isUsual(choice.value),
  }));
  if (items && row.list !== 'no') return { kind: 'choices', items };
  // First, so that nothing is claimed by going on without looking.
  const unknown = { label: 'not known', detail: '', answer: null, isUsual: false };
  if (items) return { kind: 'choice', items: [unknown, ...items] };
  if (row.type === 'integer' || row.type === 'number') {
    return { kind: 'number', ...(row.unit === undefined ? {} : { unit: row.unit }) };
  }
  return { kind: row.format === 'date' ? 'date' : 'text' };
}

/** What a key may be, where its schema or the base lists it. */
function choicesOf({ type, values, refersTo }: KeyRow, snapshot: Snapshot): readonly Choice[] | undefined {
  if (values) return values.map(({ value, meaning }) => ({ value: typed(value), detail: meaning }));
  if (type === 'boolean') return [true, false].map((value) => ({ value, detail: '' }));
  if (refersTo === undefined) return undefined;
  const records = snapshot.records(refersTo) as readonly AnyRecord[];
  return records
    .filter((record) => !isRetracted(record))
    .map((record) => ({ value: record.id, detail: recordBrief(record) }));
}

function labelOf({ value }: Choice): string {
  return value === true ? 'yes' : value === false ? 'no' : value;
}

/** Values of a fixed choice are texts or truths. */
function typed(value: string): string | boolean {
  return value === 'true' ? true : value === 'false' ? false : value;
}
