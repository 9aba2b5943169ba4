import type { OutcomeData } from '../../../../schemas/gen/records.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { OutcomeRecord } from '../model/record.ts';
import type { Path } from '../syntax/tape.ts';
import { leastBytes } from '../terms/capacity.ts';
import { isAtLeast, type Stage } from '../terms/stages.ts';
import { bytesMissing } from '../terms/verification.ts';
import { plural } from '../text/plural.ts';
import { capacityFactsOf, pairOf } from './drive-context.ts';
import { verifiedShare } from './verified-share.ts';

/** A recorded observation that keeps an assembly below some stage. */
export interface Limit {
  /** Where it stands in the outcome; leads nowhere where something is not recorded that should be. */
  readonly path: Path;
  /** What was observed: "`spins: false`". */
  readonly says: string;
  /** The highest stage it leaves. */
  readonly allows: Stage;
  /** Bytes that would have to be compared to be rid of it, where that is all. */
  readonly missingBytes?: number;
}

/** Observations that rule out a stage and all above it. Source: the stages of `terms/stages.ts`. */
const observations = [
  { key: 'spins', values: [false], allows: 'nothing' },
  { key: 'stops_again', values: [true], allows: 'spins' },
  { key: 'sound', values: ['clicking'], allows: 'spins' },
  { key: 'detected', values: [false], allows: 'ready' },
  { key: 'identity_right', values: [false], allows: 'ready' },
  { key: 'capacity_right', values: [false], allows: 'ready' },
  { key: 'locked', values: [true], allows: 'detected' },
  { key: 'reads', values: [false, 'partly'], allows: 'detected' },
  { key: 'content', values: ['noise'], allows: 'detected' },
] as const;

/** Observations that show a stage. Source: the stages of `terms/stages.ts`. */
const signs = [
  { key: 'reads', value: true, shows: 'reads' },
  { key: 'detected', value: true, shows: 'detected' },
  { key: 'host_state', value: 'ready', shows: 'ready' },
  { key: 'spins', value: true, shows: 'spins' },
  { key: 'spins', value: false, shows: 'nothing' },
] as const;

/** The highest stage up to `reads` that observations show and none of them rules out; undefined where they show none. */
export function highestObserved(observed: NonNullable<OutcomeData['observed']>): Stage | undefined {
  const ruledOut = observations.filter(({ key, values }) => (values as readonly unknown[]).includes(observed[key]));
  return signs
    .filter(({ key, value }) => observed[key] === value)
    .map(({ shows }) => shows)
    .find((stage) => ruledOut.every(({ allows }) => isAtLeast(allows, stage)));
}

/** The observations of an outcome that allow less than it is said to have reached, lowest first. Empty where nothing contradicts it. */
export function limitsBelow(outcome: OutcomeRecord, snapshot: Snapshot): readonly Limit[] {
  const { reached, observed = {} } = outcome.data;
  if (reached === undefined) return [];
  const limits: Limit[] = [];
  for (const { key, values, allows } of observations) {
    const value = observed[key];
    if (value === undefined || !(values as readonly unknown[]).includes(value) || isAtLeast(allows, reached)) continue;
    limits.push({ path: ['observed', key], says: `\`${key}: ${value}\``, allows });
  }
  const verify = reached === 'verified' ? verifyLimit(outcome, snapshot) : undefined;
  if (verify) limits.push(verify);
  return limits;
}

/** Whether the observations of an outcome rule out a stage that it is said to have reached, which is reported. */
export function isRuledOut(stage: Stage, outcome: OutcomeRecord, snapshot: Snapshot): boolean {
  const [lowest] = limitsBelow(outcome, snapshot);
  return lowest !== undefined && !isAtLeast(lowest.allows, stage);
}

function verifyLimit(outcome: OutcomeRecord, snapshot: Snapshot): Limit | undefined {
  const { patient } = pairOf(outcome, snapshot);
  // Of two sizes that contradict each other the smaller counts: the size is at fault then, not the verification.
  const capacity = patient && leastBytes(capacityFactsOf(patient));
  const verified = verifiedShare(outcome, capacity);
  const limit = (path: Path, says: string): Limit => ({ path, says, allows: 'reads' });
  switch (verified.state) {
    case 'nothing_compared':
      return limit(['verify'], 'the absence of a comparing row under `verify`');
    case 'errors': {
      const { method, errors = 0 } = outcome.data.verify?.[verified.row] ?? {};
      return limit(['verify', verified.row, 'errors'], `\`${method}\` with ${plural(errors, 'error')}`);
    }
    case 'share': {
      const wanted = snapshot.config.verifiedShare;
      if (verified.share >= wanted * (1 - rounding)) return undefined;
      const asked = `${inPercent(wanted)} asked for by \`verified_share\``;
      return {
        ...limit(
          ['verify'],
          `content compared over ${inPercent(verified.share)} of the capacity, less than the ${asked},`,
        ),
        missingBytes: bytesMissing(verified.bytes, wanted, capacity ?? 0),
      };
    }
    case 'not_known':
      return undefined;
  }
}

/** Relative error that sums of fractions may carry. */
const rounding = 1e-12;

/** A share, 0 to 1, in percent: four digits, rounded down, so that a share below a limit never looks equal to it. */
export function inPercent(share: number): string {
  const scale = 10 ** (3 - Math.floor(Math.log10(Math.max(share * 100, 1e-6))));
  return `${Math.floor(share * 100 * scale * (1 + rounding)) / scale} %`;
}
