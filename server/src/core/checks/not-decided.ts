import type { Snapshot } from '../index/snapshot.ts';
import { type GroupResult, type JointPhase, jointResults } from '../reasoning/joint-contradictions.ts';
import { components } from '../reasoning/joint-groups.ts';
import {
  type Question,
  type RuleRelations,
  relationsOfRules,
  ruleRelations,
  stepsPerQuestion,
} from '../reasoning/rule-relations.ts';
import { inARow } from '../text/in-a-row.ts';
import { inThousands } from '../text/in-thousands.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleBase } from './example-base.ts';

/** A question about rules that was given up. */
export const notDecided = defineCheck({
  check: 'not-decided',
  group: 'across',
  severity: 'warning',
  scope: 'base',
  restsOn: [relationsOfRules, components],
  why: 'Silence would look like agreement. Questions about rules are decided exactly, but a condition can be a puzzle that takes longer than anyone would wait; then nothing is known, and that is said.',
  examples: () => [
    {
      title: 'A condition that hides a puzzle: eight into seven does not go',
      files: {
        ...exampleBase,
        'rules/puzzle.yaml': `kind: rule
id: puzzle
claim: needs
#      ^^^^^ not-decided: Whether rule \`puzzle\` can be met and broken was not decided within ${inThousands(stepsPerQuestion)} steps.
#      ^^^^^ rule-untested: Rule \`puzzle\` is untested: no recorded outcome in its scope decides it at \`reads\`.
when: ${puzzle(8)}
`,
      },
    },
    {
      title: 'As many alternatives without the puzzle',
      files: {
        ...exampleBase,
        'swaplore.yaml': 'swaplore: 1\nseverity: {rule-untested: off}\n',
        'rules/alternatives.yaml': `kind: rule
id: alternatives
claim: needs
when: {any: [${Array.from({ length: 60 }, (_, number) => choice(number)).join(', ')}]}
`,
      },
    },
  ],
  *run(snapshot: Snapshot) {
    for (const question of ruleRelations(snapshot).undecided) yield describe(question);
    for (const result of jointResults(snapshot)) yield result && describeGroup(result);
  },
});

function describeGroup({ group, undecided }: GroupResult): Draft | undefined {
  const [first] = group.pairs;
  if (!first || !undecided) return undefined;
  const outcomes = [...new Map(group.pairs.map(({ evidence }) => [evidence.outcome.id, evidence.outcome]))];
  const ids = outcomes.map(([id]) => id).sort();
  const last = outcomes.find(([id]) => id === ids.at(-1))?.[1] ?? first.evidence.outcome;
  const [one = '', two = ''] = ids;
  const others = ids.length > 3 ? `\`${one}\`, \`${two}\` and ${ids.length - 2} more` : inARow(ids);
  return {
    at: { record: last, path: ['reached'], side: 'value' },
    message: `${sayPhase(undecided.phase, `${ids.length === 1 ? 'outcome' : 'outcomes'} ${others}`)} was not decided within ${inThousands(undecided.steps)} steps.`,
    help: 'Record values that are missing: each makes the question smaller.',
    related: ids.slice(0, -1).flatMap((id) => {
      const record = outcomes.find(([other]) => other === id)?.[1];
      const at = record && { record, path: ['reached'], side: 'value' as const };
      return at ? [{ at, message: `Outcome \`${id}\`.` }] : [];
    }),
  };
}

function sayPhase(phase: JointPhase, outcomes: string): string {
  switch (phase) {
    case 'consistency':
      return `Whether ${outcomes} can all be right`;
    case 'minimal set':
      return `Which of ${outcomes} contradict each other`;
    case 'further sets':
      return `Whether there are further contradictions among ${outcomes}`;
  }
}

function describe({ rules, question }: RuleRelations['undecided'][number]): Draft {
  const [first, ...others] = [...rules].sort((a, b) => (a.record.id < b.record.id ? 1 : -1));
  if (!first) throw new Error('a question is about rules');
  const names = rules.map(({ record }) => `\`${record.id}\``);
  return {
    at: { record: first.record, path: ['claim'], side: 'value' },
    message: `Whether ${describeQuestion(question, names)} was not decided within ${inThousands(stepsPerQuestion)} steps.`,
    help: 'Divide the condition among several rules.',
    related: others.map(({ record }) => ({
      at: { record, path: ['claim'], side: 'value' },
      message: `Rule \`${record.id}\`.`,
    })),
  };
}

function describeQuestion(question: Question, [first = '', second = '']: readonly string[]): string {
  switch (question) {
    case 'impossible':
      return `rule ${first} can be met and broken`;
    case 'implied':
      return `rule ${first} adds anything to rule ${second}`;
    case 'conflict':
      return `rules ${first} and ${second} can both hold`;
  }
}

/**
 * The pigeonhole principle as a condition: each of `count` things lies in one of the places, of which there is one less, and no
 * two in one. It is hard for every solver of this kind. Source: Haken, The intractability of resolution, 1985 (from memory).
 */
function puzzle(count: number): string {
  const numbers = Array.from({ length: count }, (_, number) => number);
  const places = numbers.slice(1);
  const lies = (thing: number, place: number): string => choice(thing * places.length + place - 1);
  const somewhere = numbers.map((thing) => `{any: [${places.map((place) => lies(thing, place)).join(', ')}]}`);
  const together = places.flatMap((place) =>
    numbers.flatMap((thing) =>
      numbers.slice(0, thing).map((other) => `{all: [${lies(thing, place)}, ${lies(other, place)}]}`),
    ),
  );
  return `{all: [${somewhere.join(', ')}], none: [${together.join(', ')}]}`;
}

/** One of sixty conditions that do not depend on each other: whether the number of a text has a certain binary digit. */
function choice(number: number): string {
  const keys = ['model', 'part_number', 'firmware', 'rom_version', 'site', 'country', 'head_map', 'preamp', 'sticker'];
  const side = number % 2 === 0 ? 'patient' : 'donor';
  const key = [...keys, 'head_stack_code'][Math.floor(number / 2) % 10];
  const digit = 1 << Math.floor(number / 20);
  const texts = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h'].filter((_, position) => position & digit);
  return `{${side}: {${key}: [${texts.join(', ')}]}}`;
}
