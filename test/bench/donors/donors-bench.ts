/** How long the boards of a large shelf take to be ranked. Everything but the times follows from the seed. */
import { donorGroups } from '../../../server/src/core/donors/donor-verdict.ts';
import { rankDonors } from '../../../server/src/core/donors/rank-donors.ts';
import { Random } from '../base/random.ts';
import { rankedSpares } from '../targets.ts';
import { shelf } from './shelf.ts';

const spares = 10_000;

/** What rankings took on bases of so many families, a base each, in milliseconds. */
export interface DonorTimes {
  readonly families: number;
  /** On a base that was just read. */
  readonly first: readonly number[];
  readonly again: readonly number[];
  /** How many were ranked in each group in the first run. */
  readonly groups: readonly string[];
}

/** Times for bases with few families and with many. */
export function donorTimes(seed: string, runs: number): readonly DonorTimes[] {
  return [12, 100, 1000].map((families) => {
    process.stderr.write(`donors: ${families} families\n`);
    const times = Array.from({ length: runs }, (_, run) => {
      const snapshot = shelf(new Random(`${seed}/${run}/${families}`), { spares, families, outcomes: 20 });
      return {
        first: timeOf(() => rankDonors('patient', snapshot)),
        again: timeOf(() => rankDonors('patient', snapshot)),
      };
    });
    const ranked = times[0]?.first.result?.donors ?? [];
    return {
      families,
      first: times.map(({ first }) => first.ms),
      again: times.map(({ again }) => again.ms),
      groups: donorGroups.map((group) => `${ranked.filter(({ verdict }) => verdict.group === group).length} ${group}`),
    };
  });
}

/** Times as text. */
export function donorsReport(seed: string, runs: number): string {
  const lines = donorTimes(seed, runs).map(({ families, first, again, groups }) => {
    return `${String(families).padStart(8)}  ${shown(first)}  ${shown(again)}  ${groups.join(', ')}`;
  });
  return [
    `${spares.toLocaleString('en-GB')} spare drives ranked, ms of processor time, median (least to most); up to ${rankedSpares.most} are meant:`,
    `families  ${'just read'.padStart(18)}  ${'again'.padStart(18)}  groups of the first run`,
    ...lines,
    `Seed ${seed}, ${runs} runs, a base of its own each; 20 outcomes a family, 8 rules for everything.`,
  ].join('\n');
}

/** Milliseconds of processor time, since others may use the machine. */
function timeOf<Result>(work: () => Result): { readonly ms: number; readonly result: Result } {
  const start = process.cpuUsage();
  const result = work();
  const { user, system } = process.cpuUsage(start);
  return { ms: (user + system) / 1000, result };
}

function shown(times: readonly number[]): string {
  const sorted = [...times].sort((a, b) => a - b);
  const [least = 0, median = 0, most = 0] = [sorted[0], sorted[Math.floor(sorted.length / 2)], sorted.at(-1)];
  return `${median.toFixed(0)} (${least.toFixed(0)} to ${most.toFixed(0)})`.padStart(18);
}
