import type { Value, ValueMap } from '../edits/intent.ts';
import { findKeyRow } from '../schema/key-rows.ts';
import { isMap } from '../syntax/is-map.ts';
import type { Path } from '../syntax/tape.ts';
import type { Kind } from '../terms/kinds.ts';

/** What somebody answered: a value of the record as it is written, or null where it is not known. */
export type Answer = string | number | boolean | readonly string[] | null;

/**
 * Answers by question. A question is named for the key it fills, with dots between the steps of its path and list positions counted from
 * 0: `controls.swapped_back`, `verify.0.method`.
 */
export type Answers = Readonly<Record<string, Answer>>;

/** The answer to a question; undefined where it has none yet. */
export function answerTo(answers: Answers, name: string): Answer | undefined {
  return Object.hasOwn(answers, name) ? answers[name] : undefined;
}

/** Answers from data of unknown origin, maps and lists of maps taken apart into dotted names; undefined where it is none. */
export function readAnswers(data: unknown): Answers | undefined {
  if (!isMap(data)) return undefined;
  const answers = new Map<string, Answer>();
  return collect(data, '', answers) ? Object.fromEntries(answers) : undefined;
}

function collect(data: Readonly<Record<string, unknown>>, before: string, answers: Map<string, Answer>): boolean {
  return Object.entries(data).every(([key, value]) => {
    const name = before + key;
    if (isAnswer(value)) {
      answers.set(name, value);
      return true;
    }
    if (Array.isArray(value)) return collect(Object.fromEntries(value.entries()), `${name}.`, answers);
    return isMap(value) && collect(value, `${name}.`, answers);
  });
}

/** Whether data of unknown origin is an answer. */
export function isAnswer(value: unknown): value is Answer {
  if (Array.isArray(value)) return value.every((item) => typeof item === 'string');
  return value === null || ['string', 'number', 'boolean'].includes(typeof value);
}

/** The answers as a record writes them: nested by their names, one of several values by itself where it may be, those not known left out. */
export function valueOfAnswers(kind: Kind, answers: Answers): ValueMap {
  const root: Branch = new Map();
  for (const [name, answer] of Object.entries(answers)) {
    if (answer === null || (typeof answer === 'object' && answer.length === 0)) continue;
    const steps = name.split('.');
    const last = steps.pop() ?? name;
    let branch = root;
    for (const step of steps) {
      const inner = branch.get(step);
      const next: Branch = inner instanceof Map ? inner : new Map();
      branch.set(step, next);
      branch = next;
    }
    const isOneOfSeveral = typeof answer === 'object' && findKeyRow(kind, pathOf(name))?.list === 'either';
    branch.set(last, (isOneOfSeveral && answer.length === 1 ? answer[0] : undefined) ?? answer);
  }
  return toMap(root);
}

/** The path of the key a question fills. */
export function pathOf(name: string): Path {
  return name.split('.').map((step) => (/^\d+$/.test(step) ? Number(step) : step));
}

type Branch = Map<string, Branch | Exclude<Answer, null>>;

function toMap(branch: Branch): ValueMap {
  return Object.fromEntries(
    Array.from(branch, ([key, inner]): [string, Value] => [key, inner instanceof Map ? toValue(inner) : inner]),
  );
}

/** A list where the keys are positions. */
function toValue(branch: Branch): Value {
  const map = toMap(branch);
  return [...branch.keys()].every((key) => /^\d+$/.test(key)) ? Object.values(map) : map;
}
