/** How long the boards of a large shelf take to be ranked. Everything but the times follows from the seed. */
import { donorGroups } from '../../../server/src/core/donors/donor-verdict.ts';
import { rankDonors } from '../../../server/src/core/donors/rank-donors.ts';
import { Random } from '../base/random.ts';
import { shelf } from './shelf.ts';

const spares = 10_000;

/** Milliseconds a ranking may take. */
const target = 300;

/** Times as text, for bases with few families and with many. */
export function donorsReport(seed: string, runs: number): string {
  const sizes = [
    { families: 12, outcomes: 20 },
    { families: 100, outcomes: 20 },
    { families: 1000, outcomes: 20 },
  ];
  const lines = sizes.map((size) => {
    process.stderr.write(`donors: ${size.families} families\n`);
    const times = Array.from({ length: runs }, (_, run) => {
      const snapshot = shelf(new Random(`${seed}/${run}/${size.families}`), { spares, ...size });
      return {
        first: timeOf(() => rankDonors('patient', snapshot)),
        again: timeOf(() => rankDonors('patient', snapshot)),
      };
    });
    const ranked = times[0]?.first.result?.donors ?? [];
    const counts = donorGroups.map(
      (group) => `${ranked.filter(({ verdict }) => verdict.group === group).length} ${group}`,
    );
    const [first, again] = [times.map((one) => one.first.ms), times.map((one) => one.again.ms)];
    return `${String(size.families).padStart(8)}  ${shown(first)}  ${shown(again)}  ${counts.join(', ')}`;
  });
  return [
    `${spares.toLocaleString('en-GB')} spare drives ranked, ms of processor time, median (least to most); up to ${target} are meant:`,
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
