import { describeFormula } from '../conditions/describe.ts';
import type { Claim } from '../explanations/claims-of.ts';
import type { DecidedSwap } from '../explanations/decided-swaps.ts';
import type { Hypothesis } from '../explanations/explain-swaps.ts';
import { outcomesAgainst } from '../explanations/outcomes-against.ts';
import type { Tally } from '../explanations/tally.ts';
import { inARow, someInARow } from '../text/in-a-row.ts';
import { inSentence } from '../text/in-sentence.ts';
import { onceIn } from '../text/once-in.ts';
import { roughPercent } from '../text/rough-percent.ts';
import { withShortQuotes } from '../text/with-short-quotes.ts';
import type { Item } from './document.ts';

/** How many hypotheses were looked at, and how many of them the pairs could have borne out at all. */
interface Looked {
  readonly all: number;
  readonly tested: number;
}

/** A hypothesis as somebody says it who knows drives and no statistics. */
export function hypothesisItem(
  { claim, equals, tally, adjusted, weight }: Hypothesis,
  decided: readonly DecidedSwap[],
  looked: Looked,
): Item {
  const { against, notKnown } = outcomesAgainst(claim, decided);
  const { mixed } = tally;
  return {
    name: withShortQuotes(`${claimWords(claim)}: ${roughPercent(weight)} %`),
    lines: [
      [...apartWords(tally.apart), ...withinWords(tally), ...chanceWords(tally, adjusted, looked)].join(' '),
      ...equalWords(equals),
      against.length === 0 ? 'No outcome speaks against it.' : `Against it: ${someInARow(against, mostNamed)}.`,
      ...(notKnown.length === 0 ? [] : [`Not known for ${someInARow(notKnown, mostNamed)}.`]),
      ...(mixed.length === 0 ? [] : [`Not counted, having come out both ways: ${mixed.map(pairWords).join('; ')}.`]),
    ].map(withShortQuotes),
  };
}

/** A claim as a sentence without its full stop. */
export function claimWords({ formula, holds }: Claim): string {
  return `${holds === 'works' ? 'Works' : 'Fails'} where \`${describeFormula(formula)}\``;
}

function pairWords(pair: string): string {
  return inARow(pair.split(' '));
}

/** Most ids or conditions in a row. */
const mostNamed = 4;

function apartWords({ withWorked, withFailed, withoutWorked, withoutFailed }: Tally['apart']): string[] {
  const having = shareWords(withWorked, withWorked + withFailed, 'with it');
  const lacking = shareWords(withoutWorked, withoutWorked + withoutFailed, 'without it');
  if (having === undefined) return lacking === undefined ? [] : [`${lacking}.`];
  return [lacking === undefined ? `${having}.` : `${having}, ${inSentence(lacking)}.`];
}

function withinWords({ within: { onlyWith, onlyWithout, alike } }: Tally): string[] {
  const all = onlyWith + onlyWithout + alike;
  const parts = [
    ...(onlyWith === 0 ? [] : [[onlyWith, 'worked only with it']]),
    ...(onlyWithout === 0 ? [] : [[onlyWithout, 'worked only without it']]),
    ...(alike === 0 ? [] : [[alike, 'came out alike']]),
  ];
  if (all === 0) return [];
  if (all === 1) return [`The one pair tried both ways ${parts[0]?.[1]}.`];
  return [`Of ${all} pairs tried both ways, ${parts.map((part) => part.join(' ')).join(', ')}.`];
}

function shareWords(worked: number, all: number, where: string): string | undefined {
  if (all === 0) return undefined;
  if (all === 1) return `The one pair ${where} ${worked === 1 ? 'worked' : 'failed'}`;
  if (worked === all) return `${all === 2 ? 'Both' : `All ${all}`} pairs ${where} worked`;
  if (worked === 0) return `${all === 2 ? 'Neither of the two' : `None of the ${all}`} pairs ${where} worked`;
  return `${worked} of ${all} pairs ${where} worked`;
}

function chanceWords({ test, apart, within }: Tally, adjusted: number | undefined, { tested, all }: Looked): string[] {
  if (test.least >= 1) return ['That is too little to set against chance.'];
  const isClean = test.of === 'within' ? isCleanWithin(within) : isCleanApart(apart);
  const pairs =
    test.of === 'within' && countIn(apart) > 0 ? 'pairs tried both ways would come out' : 'pairs would come out';
  const alone = `By chance alone ${pairs} ${isClean ? 'this cleanly' : 'at least this clearly'} ${onceIn(test.p)}.`;
  if (adjusted === undefined)
    return tested === 0 ? [alone] : [alone, `Among ${all} conditions, so few pairs cannot tell it from chance.`];
  if (tested === 1) return [alone];
  return [
    alone,
    `One of the ${tested} conditions that had a chance to show this would do as well by luck ${atMost(adjusted)}.`,
  ];
}

function atMost(chance: number): string {
  const often = onceIn(chance);
  return often === 'nearly always' ? often : `at most ${often}`;
}

function isCleanWithin({ onlyWith, onlyWithout }: Tally['within']): boolean {
  return onlyWith === 0 || onlyWithout === 0;
}

function isCleanApart({ withWorked, withFailed, withoutWorked, withoutFailed }: Tally['apart']): boolean {
  return withFailed + withoutWorked === 0 || withWorked + withoutFailed === 0;
}

function countIn({ withWorked, withFailed, withoutWorked, withoutFailed }: Tally['apart']): number {
  return withWorked + withFailed + withoutWorked + withoutFailed;
}

function equalWords(equals: readonly Claim[]): string[] {
  if (equals.length === 0) return [];
  const words = equals.map((claim) => inSentence(claimWords(claim)));
  const shown =
    words.length <= mostNamed
      ? words
      : [...words.slice(0, mostNamed - 1), `${words.length - mostNamed + 1} other conditions`];
  return [`The data cannot tell it apart from: ${shown.join('; ')}.`];
}
