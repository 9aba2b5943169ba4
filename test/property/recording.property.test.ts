import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checks } from '../../server/src/core/checks/registry.ts';
import { findingsOf, runChecks } from '../../server/src/core/checks/run-checks.ts';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import type { Answer, Answers } from '../../server/src/core/recording/answers.ts';
import { newRecord } from '../../server/src/core/recording/new-record.ts';
import type { Question } from '../../server/src/core/recording/question.ts';
import {
  askNext,
  faultOf,
  goBack,
  questionNames,
  type Recording,
  recordedKinds,
  typedAnswer,
} from '../../server/src/core/recording/recording.ts';
import { dayOf } from '../../server/src/core/terms/calendar.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { drained } from '../harness/drained.ts';
import { readFixtures } from '../harness/fixtures.ts';
import { fileOf, snapshotOf } from '../harness/snapshot-of.ts';
import { ternBench } from '../harness/tern-bench.ts';

const today = dayOf(2026, 3, 14) ?? 0;
const demo = snapshotOf(
  Object.fromEntries(
    readFixtures()
      .filter(({ name }) => name.startsWith('knowledge/'))
      .map(({ path, text }) => [path, text]),
  ),
);
const bases: readonly Snapshot[] = [demo, snapshotOf(ternBench), snapshotOf({})];

/** Whoever answers: what is given to the question in turn, by what it asks for. */
interface Given {
  readonly pick: number;
  readonly typed: string;
}

const arbitraryGiven: fc.Arbitrary<Given> = fc.record({
  pick: fc.nat(30),
  typed: fc.oneof(
    fc.constantFrom('', '2026-03-14', '2012-W31', '40', '1000', '****4F2K', '0040', 'true', '500005e012345678'),
    fc.string({ unit: 'grapheme', maxLength: 12 }),
  ),
});

const arbitraryWalk = fc.record({
  kind: fc.constantFrom(...recordedKinds),
  snapshot: fc.constantFrom(...bases),
  given: fc.array(arbitraryGiven, { minLength: 45, maxLength: 45 }),
});

interface Walk {
  readonly recording: Recording;
  readonly asked: readonly Question[];
  readonly answers: Answers;
}

/** Answers all questions; what is not accepted becomes not known. */
function walk({ kind, snapshot, given }: typeof arbitraryWalk extends fc.Arbitrary<infer W> ? W : never): Walk {
  const recording: Recording = { kind, snapshot, today };
  const asked: Question[] = [];
  let answers: Answers = {};
  for (const each of given) {
    const { question } = askNext(recording, answers);
    if (!question) break;
    asked.push(question);
    const answer = answerFrom(question, each);
    answers = { ...answers, [question.name]: faultOf(recording, question, answer) === undefined ? answer : null };
  }
  return { recording, asked, answers };
}

function answerFrom(question: Question, { pick, typed }: Given): Answer {
  const { input } = question;
  if (!('items' in input)) return typedAnswer(question, typed);
  const items = input.items.map(({ answer }) => answer);
  if (input.kind === 'choice') return items[pick % items.length] ?? null;
  const several = items.filter((_, position) => (pick >> position) % 2 === 1).map(String);
  return several.length > 0 ? several : null;
}

describe('recording', () => {
  it('every question is asked once, and the questions come to an end', () => {
    assertLaw(
      500,
      fc.property(arbitraryWalk, (sample) => {
        const { recording, asked, answers } = walk(sample);
        expect(askNext(recording, answers).question).toBeUndefined();
        const names = asked.map(({ name }) => name);
        expect(new Set(names).size).toBe(names.length);
        expect(names).toEqual(questionNames(recording.kind).filter((name) => names.includes(name)));
        expect(asked.map(({ position }) => position)).toEqual(names.map((_, index) => index + 1));
      }),
    );
  });

  it('going back and answering again leads to where one was', () => {
    assertLaw(
      300,
      fc.property(arbitraryWalk, (sample) => {
        const { recording, asked, answers } = walk(sample);
        let before = answers;
        for (const question of asked.toReversed()) {
          before = goBack(recording, before);
          expect(askNext(recording, before).question).toEqual(question);
        }
        expect(before).toEqual({});
        expect(goBack(recording, {})).toEqual({});
      }),
    );
  });

  it('answers to questions that are not asked change nothing', () => {
    assertLaw(
      300,
      fc.property(arbitraryWalk, fc.dictionary(fc.string(), fc.string()), (sample, others) => {
        const { recording, answers } = walk(sample);
        const unasked = questionNames(recording.kind).filter((name) => !Object.hasOwn(answers, name));
        const more = { ...others, ...Object.fromEntries(unasked.map((name) => [name, 'left'])), ...answers };
        expect(askNext(recording, more).answers).toEqual(answers);
      }),
    );
  });

  it('what is accepted breaks no schema and leads nowhere unrecorded', () => {
    const structural = checks.filter(({ group }) => group === 'file' || group === 'structure');
    assertLaw(
      300,
      fc.property(arbitraryWalk, (sample) => {
        const { recording, answers } = walk(sample);
        const { path, text, id } = newRecord(recording, answers, () => false);
        const after = recording.snapshot.with([{ path, file: fileOf(path, text) }]);
        const found = findingsOf(drained(runChecks(after, { today, checks: structural })));
        const missing = ['patient', 'donor', 'date', 'reached', 'result', 'family'].filter(
          (name) => answers[name] === null,
        );
        // What has to be there and nobody knows is reported, and nothing else is.
        expect(found.filter(({ place }) => place.file === path).map(({ check }) => check)).toEqual(
          missing.filter((name) => questionNames(recording.kind).includes(name)).map(() => 'schema'),
        );
        expect(recording.snapshot.files.get(path)).toBeUndefined();
        expect(after.findAny(recording.kind, id)).toBeDefined();
      }),
    );
  });

  it('what is not known is not written', () => {
    assertLaw(
      300,
      fc.property(arbitraryWalk, (sample) => {
        const { recording, answers } = walk(sample);
        const none = Object.fromEntries(Object.keys(answers).map((name) => [name, null]));
        const known = Object.values(answers).filter((answer) => answer !== null);
        const { text } = newRecord(recording, answers, () => false);
        const record = fileOf('a.yaml', text).facts.records[0]?.record;
        expect(leavesIn({ ...record?.data, notes: undefined })).toBeLessThanOrEqual(known.length + 1);
        expect(newRecord(recording, none, () => false).text).toMatch(/^kind: .*\nid: .*\n$/);
      }),
    );
  });
});

/** Values in data that are neither maps nor lists of maps. */
function leavesIn(data: unknown): number {
  if (data === undefined) return 0;
  if (Array.isArray(data) && data.some((item) => typeof item === 'object')) {
    return data.map(leavesIn).reduce((sum, count) => sum + count, 0);
  }
  if (typeof data !== 'object' || data === null || Array.isArray(data)) return 1;
  return Object.values(data)
    .map(leavesIn)
    .reduce((sum, count) => sum + count, 0);
}
