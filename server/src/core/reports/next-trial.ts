import { romTravels } from '../conditions/rom-travels.ts';
import type { Claim } from '../explanations/claims-of.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { inARow, someInARow } from '../text/in-a-row.ts';
import { inSentence } from '../text/in-sentence.ts';
import { inThousands } from '../text/in-thousands.ts';
import { plural } from '../text/plural.ts';
import { roughPercent } from '../text/rough-percent.ts';
import { rounded } from '../text/rounded.ts';
import { withShortQuotes } from '../text/with-short-quotes.ts';
import { leastWorthTrying, type NextTrial, type Untold, worthWords } from '../trials/next-trial.ts';
import type { Candidate, PlannedTrial } from '../trials/plan-trials.ts';
import type { Unfit } from '../trials/trial-shelf.ts';
import { pairName } from '../verdicts/pair-name.ts';
import { decidedWords } from './decided-words.ts';
import type { Block, Item } from './document.ts';
import { claimWords } from './hypothesis-item.ts';
import { swapWords } from './trial-words.ts';
import { wantedWords } from './wanted-words.ts';

/** Trials and explanations that the text spells out. */
const [mostTrials, mostNamed] = [3, 6];

/** What to try next for a family: what still stands, the swaps that would tell most, and what the shelf cannot tell. */
export function nextTrialDocument(found: NextTrial, snapshot: Snapshot): Block[] {
  return [{ kind: 'heading', level: 1, text: `The next trial: ${found.family}` }, ...nextTrialBlocks(found, snapshot)];
}

/** The same without a title, for a section of another report. */
export function nextTrialBlocks(found: NextTrial, snapshot: Snapshot): Block[] {
  const { candidates, none, trials, untold, decided } = found;
  const standing = worthWords(candidates, mostNamed);
  const useful = onePerPair(trials.filter(({ information }) => information >= leastWorthTrying)).slice(0, mostTrials);
  return [
    paragraph(decidedWords(found, snapshot.config.worksAt)),
    ...(decided.length === 0 || standing.length === 0 ? [] : standingBlocks(standing, none)),
    paragraph(leadWords(found, useful)),
    ...trialBlocks(useful.length > 0 || decided.length > 0 ? useful : trials.slice(0, 1), standing, found),
    ...untoldBlocks(untold),
    ...shelfBlocks(found),
  ];
}

/** The other way round a pair is told in a line of its own only where the ROM is treated another way. */
function onePerPair(trials: readonly PlannedTrial[]): readonly PlannedTrial[] {
  const names = trials.map(({ swap }) => `${pairName(swap.patient.drive.id, swap.donor.drive.id)} ${romTravels(swap)}`);
  return trials.filter((_, n) => names.indexOf(names[n] ?? '') === n);
}

function paragraph(text: string): Block {
  return { kind: 'paragraph', text: withShortQuotes(text) };
}

function standingBlocks(standing: readonly Candidate[], none: number): Block[] {
  const rest = 1 - none - standing.reduce((sum, { weight }) => sum + weight, 0);
  return [
    paragraph(
      'What may explain them, with how far to believe each. Whatever a swap of the shelf would tell apart counts by itself here, so that ' +
        'the figures may differ from those of all explanations so far.',
    ),
    {
      kind: 'items',
      items: [
        ...standing.map(({ claim, equals, weight }, n) => ({
          name: withShortQuotes(`${letterOf(n)}: ${claimWords(claim)}, ${roughPercent(weight)} %`),
          lines:
            equals.length === 0
              ? []
              : [withShortQuotes(`The same, as far as the shelf can tell: ${equalWords(equals)}.`)],
        })),
        ...(rest >= 0.005
          ? [{ name: `Others, of which none stands out: ${roughPercent(rest)} % together`, lines: [] }]
          : []),
        { name: `None of these, ${roughPercent(none)} %`, lines: [] },
      ],
    },
  ];
}

/** Explanations have letters, so that trials can name them shortly. */
function letterOf(position: number): string {
  return String.fromCharCode('A'.charCodeAt(0) + position);
}

/** Most claims in a row. */
const mostEquals = 3;

function equalWords(equals: readonly Claim[]): string {
  const words = equals.slice(0, mostEquals).map((claim) => inSentence(claimWords(claim)));
  const more = equals.length - words.length;
  return [...words, ...(more > 0 ? [`${more} others`] : [])].join('; ');
}

function leadWords({ trials, decided, shelf, family }: NextTrial, useful: readonly PlannedTrial[]): string {
  if (shelf.patients.length === 0 || shelf.donors.length < 2) {
    return `Nothing can be tried: a trial takes a drive of family \`${family}\` and another that are fit for it, and the shelf does not have both.`;
  }
  if (trials.length === 0) return 'Nothing is left to try: all that the shelf allows was tried.';
  if (decided.length === 0) {
    return 'A first result tells nothing yet: there is none to set it against. Begin with the closest match.';
  }
  if (useful.length === 0)
    return 'No swap of the shelf would tell more: every explanation that stands foretells the same of each.';
  return 'The swaps that would tell most:';
}

function trialBlocks(shown: readonly PlannedTrial[], standing: readonly Candidate[], { none }: NextTrial): Block[] {
  if (shown.length === 0) return [];
  const items = shown.map((trial): Item => {
    const results = (['works', 'fails'] as const).map((result) => resultWords(trial, result, standing, none));
    return {
      name: swapWords(trial.swap),
      lines: (trial.information < leastWorthTrying
        ? [alikeWords(trial.swaps)]
        : [`${worthWordsOf(trial)} ${alikeWords(trial.swaps)}`, ...results]
      ).map(withShortQuotes),
    };
  });
  return [
    { kind: 'items', items },
    { kind: 'caution', text: risk },
    { kind: 'caution', text: proof },
    ...hostBlocks(shown),
  ];
}

const risk =
  'A trial may cost both drives: a ROM of another drive may write to the service area. Keep images of both ROMs first, and stop at ' +
  'any clicking or grinding. Drives are listed only if they are spare, hold test data or none, and are recorded as good.';

const proof =
  'Run both drives on their own boards first and again after swapping back, and record it under `controls`: without that a failure ' +
  'proves nothing.';

/** What the families of the drives shown ask of a host. */
function hostBlocks(shown: readonly PlannedTrial[]): Block[] {
  const sides = shown.flatMap(({ swap }) => [swap.patient, swap.donor]);
  const needs = new Set(sides.flatMap(({ family }) => family?.data.host_needs ?? []));
  return needs.size === 0 ? [] : [paragraph(`The host has to meet ${inARow([...needs].sort())}.`)];
}

/** How much of what one result can tell at most. */
function worthWordsOf({ information, works }: PlannedTrial): string {
  const much =
    information >= 0.4 ? 'a great deal' : information >= 0.15 ? 'much' : information >= 0.05 ? 'something' : 'little';
  return `Tells ${much} (${rounded(information, 2)} bit, where 1 is the most a result can tell). Works with a chance of ${roughPercent(works)} %.`;
}

function alikeWords(swaps: number): string {
  if (swaps === 1) return 'No other swap on the shelf is like it.';
  return `${inThousands(swaps - 1)} other ${swaps === 2 ? 'swap' : 'swaps'} on the shelf would tell the same.`;
}

/** What a result does to the explanations that are named: out, less likely, more likely. */
function resultWords(
  trial: PlannedTrial,
  result: 'works' | 'fails',
  standing: readonly Candidate[],
  none: number,
): string {
  const after = trial.after(result);
  const moves = [
    ...standing.map(({ weight }, n) => ({ name: letterOf(n), before: weight, after: after.candidates[n] ?? 0 })),
    { name: 'none of these', before: none, after: after.none },
  ];
  const out = moves.filter((move) => move.after < move.before / 4);
  const up = moves.filter((move) => move.after > move.before * 1.1 && !out.includes(move));
  const parts = [
    ...(out.length > 0 ? [`as good as out: ${out.map(moveWords).join(', ')}`] : []),
    ...(up.length > 0 ? [`more likely: ${up.map(moveWords).join(', ')}`] : []),
  ];
  return `If it ${result}: ${parts.length > 0 ? parts.join('; ') : 'little changes for those named here'}.`;
}

function moveWords({ name, before, after }: { name: string; before: number; after: number }): string {
  return `${name} (${roughPercent(before)} → ${roughPercent(after)} %)`;
}

function untoldBlocks(untold: readonly Untold[]): Block[] {
  if (untold.length === 0) return [];
  const items = untold.map(({ claims: [a, b], lookFor }): Item => {
    const name = withShortQuotes(`${claimWords(a)}, or ${inSentence(claimWords(b))}?`);
    const lines = [
      lookFor
        ? `Look for ${wantedWords(lookFor)}.`
        : 'No two drives can tell: by what is recorded of boards and families they are one.',
    ];
    return { name, lines: lines.map(withShortQuotes) };
  });
  return [paragraph('What no swap of the shelf tells apart, and which pair would:'), { kind: 'items', items }];
}

function shelfBlocks({ shelf, looked }: NextTrial): Block[] {
  const { patients, donors, leftOut } = shelf;
  const fit = `Fit for trials: ${patients.length === 0 ? 'no drive' : plural(patients.length, 'drive')} of the family${donors.length > patients.length ? `, and ${donors.length - patients.length} of others with one of its boards` : ''}.`;
  const left = [...leftOut].map(([reason, ids]) => `${someInARow(ids, mostIds)} (${unfitWords[reason]})`);
  const cut = looked.looked < donors.length || looked.isCut;
  return [
    paragraph(`${fit}${left.length > 0 ? ` Left out: ${left.join('; ')}.` : ''}`),
    ...(cut ? [paragraph('So many drives differ that only the most frequent kinds of swaps were weighed.')] : []),
  ];
}

const unfitWords: Readonly<Record<Unfit, string>> = {
  data: 'data wanted, or not known to be test data or none',
  media: 'heads and platters not recorded as good',
  board: 'board not recorded as good',
  half: 'board or head-disk assembly missing, so that a failure proves nothing',
  not_measured: 'burnt or shorted, and not measured since',
  doubted: 'an outcome speaks against a part of it',
};

/** Most ids in a row. */
const mostIds = 4;
