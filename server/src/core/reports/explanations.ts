import { type DecidedSwap, decidedSwaps } from '../explanations/decided-swaps.ts';
import { type Explanations, explainSwaps, type Hypothesis } from '../explanations/explain-swaps.ts';
import { outcomesAgainst } from '../explanations/outcomes-against.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { maximumMatching } from '../odds/maximum-matching.ts';
import { inSentence } from '../text/in-sentence.ts';
import { plural } from '../text/plural.ts';
import { roughPercent } from '../text/rough-percent.ts';
import { withShortQuotes } from '../text/with-short-quotes.ts';
import { countsOf, decidedWords } from './decided-words.ts';
import type { Block, Item } from './document.ts';
import { claimWords, hypothesisItem } from './hypothesis-item.ts';

/** What explains the outcomes of a family, and what is explained. */
export interface FamilyExplanations {
  readonly family: string;
  readonly decided: readonly DecidedSwap[];
  /** Outcomes that are inconclusive. */
  readonly open: number;
  readonly explanations: Explanations;
}

/** Explains the outcomes whose patient is of a family. */
export function collectExplanations(family: string, snapshot: Snapshot): FamilyExplanations {
  const { decided, open } = decidedSwaps(family, snapshot);
  return { family, decided, open, explanations: explainSwaps(decided) };
}

/** Most hypotheses that JSON spells out. */
const mostInData = 50;

/** The same with the keys and shapes of the JSON output. */
export function explanationsData(found: FamilyExplanations, worksAt: string): object {
  const { family, decided, open, explanations } = found;
  const { hypotheses, none, classes, joined } = explanations;
  return {
    family,
    worksAt,
    decided: { ...countsOf(decided), inconclusive: open },
    noneOfThese: none,
    hypotheses: hypotheses.slice(0, mostInData).map((one) => hypothesisData(one, decided)),
    others: {
      hypotheses: Math.max(0, hypotheses.length - mostInData),
      weight: weightOf(hypotheses.slice(mostInData)),
    },
    lookedAt: {
      hypotheses: hypotheses.length,
      couldReach: testedIn(hypotheses),
      entries: classes,
      inTwos: joined.get(2) ?? 0,
      inThrees: joined.get(3) ?? 0,
    },
  };
}

function hypothesisData(
  { claim, equals, tally, adjusted, weight }: Hypothesis,
  decided: readonly DecidedSwap[],
): object {
  const { apart, within, test, separates, mixed } = tally;
  return {
    condition: claim.condition,
    holds: claim.holds,
    equals: equals.map(({ condition, holds }) => ({ condition, holds })),
    weight,
    ...{ separates, apart, within },
    test: { ...test, adjusted: adjusted ?? null },
    ...outcomesAgainst(claim, decided),
    mixed: mixed.map((pair) => pair.split(' ')),
  };
}

/** Most hypotheses that the text spells out, and the weight below which it leaves them out. */
const mostInText = 5;
const leastInText = 0.02;

/** The explanations in plain words, with the figures behind them. */
export function explanationsDocument(found: FamilyExplanations, snapshot: Snapshot): Block[] {
  return [{ kind: 'heading', level: 1, text: `Explanations: ${found.family}` }, ...explanationBlocks(found, snapshot)];
}

/** The same without a title, for a section of another report. */
export function explanationBlocks(found: FamilyExplanations, snapshot: Snapshot): Block[] {
  const { decided, explanations } = found;
  return [
    { kind: 'paragraph', text: decidedWords(found, snapshot.config.worksAt) },
    ...(explanations.hypotheses.length === 0
      ? [{ kind: 'paragraph', text: nothingWords(decided) } as const]
      : hypothesisBlocks(found)),
  ];
}

function nothingWords(decided: readonly DecidedSwap[]): string {
  const { worked, failed } = countsOf(decided);
  if (worked > 0 && failed > 0)
    return 'Nothing that is recorded of both drives, and nothing done about the ROM, tells them apart.';
  return 'There is nothing to tell apart until one has worked and one has failed.';
}

function hypothesisBlocks({ decided, explanations }: FamilyExplanations): Block[] {
  const { hypotheses, none } = explanations;
  const shown = hypotheses.slice(0, mostInText).filter(({ weight }, n) => n === 0 || weight >= leastInText);
  const rest = hypotheses.slice(shown.length);
  const looked = { all: hypotheses.length, tested: testedIn(hypotheses) };
  const others: Item[] =
    rest.length === 0
      ? []
      : [{ name: `${plural(rest.length, 'other condition')}: ${roughPercent(weightOf(rest))} % together`, lines: [] }];
  return [
    { kind: 'paragraph', text: withShortQuotes(leadWords(explanations)) },
    {
      kind: 'items',
      items: [
        ...shown.map((one) => hypothesisItem(one, decided, looked)),
        ...others,
        { name: `None of these: ${roughPercent(none)} %`, lines: [noneWords(decided)] },
      ],
    },
    { kind: 'paragraph', text: legend },
    { kind: 'paragraph', text: boundsWords(explanations) },
    ...sharedBlocks(decided),
  ];
}

function leadWords({ hypotheses, none }: Explanations): string {
  const [first] = hypotheses;
  if (!first || none >= 0.5)
    return `They do not say yet what it depends on: most likely it is none of the conditions below (${roughPercent(none)} %).`;
  const { claim, equals, weight } = first;
  if (weight < 0.5) return `It seems to depend on something, but no one condition stands out.${doubtWords(hypotheses)}`;
  const orEqual = equals.length === 0 ? '' : ', or what cannot be told apart from it';
  return `Most likely it ${inSentence(claimWords(claim))}${orEqual} (${roughPercent(weight)} %).${doubtWords(hypotheses)}`;
}

/** What is to be added where the pairs are too few for any test. */
function doubtWords(hypotheses: readonly Hypothesis[]): string {
  if (testedIn(hypotheses) > 0) return '';
  return ' So few pairs may come out like that by chance, whatever is true.';
}

function noneWords(decided: readonly DecidedSwap[]): string {
  const { outcomes, worked } = countsOf(decided);
  return `Something nobody recorded, or luck: ${worked} of ${plural(outcomes, 'outcome')} worked, whatever the condition.`;
}

const legend =
  'The percentages say how far to believe each, and come to 100 together. Before any swap, half goes to none of these; in the other ' +
  'half, conditions of one more entry get a quarter as much together (a value that is named counts as two), and one swap in twenty ' +
  'may come out wrong all the same. With the ROM moved along, heads, preamp and site only stand for a kind of board, and get a ' +
  'quarter. What fits need not be the cause: swaps that would tell two conditions apart show which it is.';

function boundsWords({ hypotheses, classes, joined }: Explanations): string {
  const parts = [...joined].flatMap(([size, taken]) => {
    const name = size === 2 ? 'twos' : 'threes';
    if (taken < 2) return [];
    return taken < classes ? `the first ${taken} of them also in ${name}` : `all of them also in ${name}`;
  });
  const joinedWords = parts.length === 0 ? '' : ` (${parts.join(', ')})`;
  return (
    `Looked at: ${plural(hypotheses.length, 'way')} to divide these outcomes, made of ${classes === 1 ? '1 entry' : `${classes} entries`}` +
    `${joinedWords}. Candidates are \`rom_travels\`, \`same\` and \`different\` of every key that is compared, and values of what a ` +
    'board carries; dates, hours and other values are not.'
  );
}

function sharedBlocks(decided: readonly DecidedSwap[]): Block[] {
  const pairs = [...new Map(decided.map(({ pair, swap }) => [pair, swap])).values()];
  const apart = maximumMatching(pairs.map(({ patient, donor }) => [patient.drive.id, donor.drive.id] as const)).length;
  if (apart === pairs.length) return [];
  const text =
    `Some of the ${pairs.length} pairs share a drive (at most ${apart} share none). One odd drive can then speak several times, ` +
    'so that all these figures look surer than they are.';
  return [{ kind: 'paragraph', text }];
}

function testedIn(hypotheses: readonly Hypothesis[]): number {
  return hypotheses.filter(({ adjusted }) => adjusted !== undefined).length;
}

function weightOf(hypotheses: readonly Hypothesis[]): number {
  return hypotheses.reduce((sum, { weight }) => sum + weight, 0);
}
