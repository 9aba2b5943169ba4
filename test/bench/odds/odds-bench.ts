/** What the odds promise, held against shops whose true rates are known. Everything follows from the seed. */
import { Random } from '../base/random.ts';
import { type ControlHabit, controlFigures } from './controls.ts';
import { lowestCoverage } from './exact-coverage.ts';
import { type Coverage, type Share, shopCoverage } from './shop-coverage.ts';
import { type Sharing, sharings } from './shops.ts';
import { worlds } from './worlds.ts';

/** Most independent pairs for which coverage is worked out. */
const mostPairs = 60;

/** Share of odd drives in the shops. */
const oddShares = [0, 0.15, 0.3];

/** All figures as text. `shops` are drawn for each way of sharing drives, share of odd ones, and world. */
export function oddsReport(seed: string, shops: number): string {
  return [
    ...exactLines(),
    '',
    ...shopLines(new Random(`${seed}/shops`), shops),
    '',
    ...controlLines(new Random(`${seed}/controls`)),
    '',
    `Seed ${seed}, ${shops} shops for each figure before averaging.`,
  ].join('\n');
}

function exactLines(): string[] {
  const lowest = Array.from({ length: mostPairs }, (_, n) => ({ pairs: n + 1, ...lowestCoverage(n + 1) }));
  const least = lowest.reduce((a, b) => (b.coverage < a.coverage ? b : a));
  return [
    `Exact 95 % interval, 1 to ${mostPairs} independent pairs, rates from 0.5 % to 99.5 %, worked out:`,
    `  holds the true rate in at least ${percent(least.coverage)} of cases (${least.pairs} pairs, rate ${percent(least.rate)}).`,
  ];
}

function shopLines(random: Random, shops: number): string[] {
  const rows = sharings.flatMap((sharing) =>
    oddShares.map((odd) => {
      process.stderr.write(`odds: ${sharing}, ${percent(odd)} odd drives\n`);
      return { sharing, odd, byWorld: worlds.map((world) => shopCoverage(random, world, { sharing, odd }, shops)) };
    }),
  );
  const all = rows.flatMap(({ byWorld }) => byWorld);
  return [
    'Share of families whose true rate lies in the 95 % interval, ± Monte Carlo error:',
    `${'pairs tried'.padEnd(26)}${'odd'.padStart(5)}${'exact'.padStart(13)}${'pooled'.padStart(13)}   least, exact and pooled`,
    ...rows.map(({ sharing, odd, byWorld }) => shopLine(sharing, odd, byWorld)),
    `All shops: exact ${shown(averaged(all, 'exact'))}, pooled ${shown(averaged(all, 'pooled'))} %.`,
    ...worlds.map(({ name }, w) => {
      const own = rows.flatMap(({ byWorld }) => byWorld.slice(w, w + 1));
      return `  ${name}: exact ${shown(averaged(own, 'exact'))}, pooled ${shown(averaged(own, 'pooled'))} %`;
    }),
  ];
}

function shopLine(sharing: Sharing, odd: number, byWorld: readonly Coverage[]): string {
  const least = (which: keyof Coverage): string =>
    shown(byWorld.map((one) => one[which]).reduce((a, b) => (b.share < a.share ? b : a)));
  return (
    sharing.padEnd(26) +
    percent(odd).padStart(5) +
    shown(averaged(byWorld, 'exact')).padStart(13) +
    shown(averaged(byWorld, 'pooled')).padStart(13) +
    `   ${least('exact')}, ${least('pooled')}`
  );
}

function controlLines(random: Random): string[] {
  const habits: readonly ControlHabit[] = ['whatever came of the swap', 'after every success', 'after failures only'];
  return [
    'Rates where four failures in five lack a control, of 20,000 swaps each:',
    ...habits.flatMap((habit) => [
      `  controls made ${habit}`,
      ...[0.3, 0.6, 0.9].map((truth) => {
        const { eligible, allSuccesses } = controlFigures(random.fork(`${habit}/${truth}`), truth, habit, 4);
        return `    true ${percent(truth)}: odds ${percent(eligible)}; with every success ${percent(allSuccesses)}`;
      }),
    ]),
  ];
}

/** The mean of independent figures. */
function averaged(list: readonly Coverage[], which: keyof Coverage): Share {
  const mean = (of: (one: Share) => number): number => list.reduce((sum, one) => sum + of(one[which]), 0) / list.length;
  return { share: mean(({ share }) => share), error: Math.sqrt(mean(({ error }) => error ** 2) / list.length) };
}

function shown({ share, error }: Share): string {
  return `${(100 * share).toFixed(1)} ±${(100 * error).toFixed(1)}`;
}

function percent(share: number): string {
  return `${Number((100 * share).toFixed(2))} %`;
}
