/** What `plan` is worth to shops that know nothing yet, and how long it takes on a large shelf. Everything but the times follows from the seed. */
import { explainSwaps } from '../../../server/src/core/explanations/explain-swaps.ts';
import { planTrials } from '../../../server/src/core/trials/plan-trials.ts';
import { trialShelf } from '../../../server/src/core/trials/trial-shelf.ts';
import { pairName } from '../../../server/src/core/verdicts/pair-name.ts';
import { at, Random } from '../base/random.ts';
import { plannedTrials } from '../targets.ts';
import { shelf, shop } from './shops.ts';
import { play, type Story, type Strategy } from './strategies.ts';

/** Trials after which a search is given up; trials without a cause; pairs of pure noise. */
const [most, mostWithout, noisePairs] = [40, 30, 8];

const strategies = ['plan', 'random', 'closest'] as const satisfies readonly Strategy[];

/** All figures as text. */
export function trialsReport(seed: string, shops: number, runs: number): string {
  return [
    ...searchLines(seed, shops),
    '',
    withoutCauseLine(seed, shops),
    ...noiseLines(seed, shops),
    '',
    timesLine(seed, runs),
    `Seed ${seed}, ${shops} shops each; in each a shelf of 36 spares in 12 lots, and one swap in twenty against the cause.`,
  ].join('\n');
}

function searchLines(seed: string, shops: number): string[] {
  const trials = Object.fromEntries(strategies.map((strategy) => [strategy, [] as number[]])) as Record<
    Strategy,
    number[]
  >;
  for (let n = 0; n < shops; n++) {
    for (const strategy of strategies) {
      const story = play(shop('cause', new Random(`${seed}/cause/${n}`)), {
        ...{ strategy, most },
        random: new Random(`${seed}/cause/${n}/${strategy}`),
      });
      trials[strategy].push(story.found ?? most + 1);
    }
    const took = strategies.map((strategy) => `${strategy} ${shownCount(trials[strategy].at(-1) ?? 0)}`);
    process.stderr.write(`trials: shop ${n + 1} of ${shops}: ${took.join(', ')}\n`);
  }
  const medians = Object.fromEntries(strategies.map((strategy) => [strategy, median(trials[strategy])]));
  const mean = (strategy: Strategy): number => trials[strategy].reduce((sum, count) => sum + count, 0) / shops;
  const lines = strategies.map((strategy) => {
    const found = trials[strategy].filter((count) => count <= most).length;
    return `  ${strategy.padEnd(8)} ${shownCount(medians[strategy] ?? 0).padStart(4)}   ${mean(strategy).toFixed(1).padStart(5)} on average   found in ${percent(found / shops)} of shops`;
  });
  const ratio = (other: Strategy): string => ((medians['plan'] ?? 0) / (medians[other] ?? 1)).toFixed(2);
  return [
    `Trials until what it depends on is believed to 0.9, at most ${most}, medians (those given up count as ${most + 1}):`,
    ...lines,
    `  plan ÷ random ${ratio('random')} (up to 0.6 is meant), plan ÷ closest match ${ratio('closest')} (up to 0.8)`,
  ];
}

function shownCount(count: number): string {
  return count > most ? `> ${most}` : String(count);
}

function withoutCauseLine(seed: string, shops: number): string {
  const stories = drawn(seed, 'no_cause', shops, { strategy: 'plan', most: mostWithout });
  const isLed = ({ last: { none, candidates } }: Story): boolean => candidates.every(({ weight }) => weight < none);
  return `No cause among the keys: after ${mostWithout} planned trials none of them leads in ${percent(share(stories, isLed))} of shops (at least 90 % is meant).`;
}

function noiseLines(seed: string, shops: number): string[] {
  const stories = drawn(seed, 'noise', shops, { strategy: 'random', most: noisePairs });
  const explained = stories.map(({ decided }) => explainSwaps(decided));
  const isCalled = ({ hypotheses }: (typeof explained)[number]): boolean =>
    hypotheses.some(({ adjusted = 1, tally }) => tally.separates && adjusted <= 0.05);
  const isLed = ({ hypotheses, none }: (typeof explained)[number]): boolean =>
    none < 0.5 && (hypotheses[0]?.weight ?? 0) >= 0.5;
  return [
    `Pure noise over ${noisePairs} pairs: called separated in ${percent(share(explained, isCalled))} of shops (up to 5 % is meant);`,
    `  said to be most likely explained by one condition in ${percent(share(explained, isLed))}.`,
  ];
}

function drawn(
  seed: string,
  world: 'no_cause' | 'noise',
  shops: number,
  how: { readonly strategy: Strategy; readonly most: number },
): readonly Story[] {
  return Array.from({ length: shops }, (_, n) => {
    process.stderr.write(`trials: ${world}, shop ${n + 1} of ${shops}\n`);
    return play(shop(world, new Random(`${seed}/${world}/${n}`)), {
      ...how,
      random: new Random(`${seed}/${world}/${n}/results`),
    });
  });
}

/** What a plan took after 30 swaps, for so many spare drives. */
export interface PlanTimes {
  readonly drives: number;
  /** Of processor time. */
  readonly seconds: number;
}

/** Times of plans on large shelves, one each. */
export function planTimes(seed: string, runs: number): readonly PlanTimes[] {
  process.stderr.write('trials: 10,000 spares\n');
  return Array.from({ length: runs }, (_, run) => {
    const random = new Random(`${seed}/times/${run}`);
    const snapshot = shelf(random, { batches: 500, perBatch: 20 });
    const { patients } = trialShelf('tern', snapshot);
    const story = play({ ...shop('cause', random), snapshot }, { strategy: 'plan', most: 0, random });
    const decided = Array.from({ length: 30 }, (_, n) => {
      const { swap } = at(story.last.trials, n);
      const pair = pairName(swap.patient.drive.id, swap.donor.drive.id);
      return { outcome: `o-${n}`, swap, pair, works: n % 2 === 0 };
    });
    const start = process.cpuUsage();
    planTrials('tern', decided, snapshot);
    const { user, system } = process.cpuUsage(start);
    return { seconds: (user + system) / 1e6, drives: patients.length };
  });
}

function timesLine(seed: string, runs: number): string {
  const times = planTimes(seed, runs);
  const seconds = times.map((one) => one.seconds).sort((a, b) => a - b);
  return `A plan for ${(times[0]?.drives ?? 0).toLocaleString('en-GB')} spares after 30 swaps: ${median(seconds).toFixed(2)} s of processor time, at most ${(seconds.at(-1) ?? 0).toFixed(2)} (up to ${plannedTrials.most} is meant).`;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = Math.floor(sorted.length / 2);
  return sorted.length % 2 === 1 ? at(sorted, middle) : (at(sorted, middle - 1) + at(sorted, middle)) / 2;
}

function share<One>(list: readonly One[], holds: (one: One) => boolean): number {
  return list.filter(holds).length / list.length;
}

function percent(value: number): string {
  return `${(100 * value).toFixed(1)} %`;
}
