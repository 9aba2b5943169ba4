import type { Swap } from '../conditions/swap.ts';
import { alikeRate } from '../donors/alike-odds.ts';
import { donorFacts } from '../donors/donor-facts.ts';
import { donorGroups } from '../donors/donor-verdict.ts';
import { keysToInspect } from '../donors/keys-to-inspect.ts';
import { plannedReasons } from '../donors/planned-reasons.ts';
import type { DonorRanking, RankedDonor } from '../donors/rank-donors.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { Rule } from '../reasoning/rule.ts';

/** A ranking with the keys and shapes of the JSON output of `swaplore donors`; every donor is in it. */
export function donorData({ patient, state, plan, travels, donors }: DonorRanking, snapshot: Snapshot): object {
  const { examination, isMeasuredFirst, mayBeDiode, inside, isOwnBoardGood, holdsUserData } = state;
  const groups = donorGroups.map((group) => [
    group,
    donors.filter(({ verdict }) => verdict.group === group).map((donor) => dataOf(donor, snapshot)),
  ]);
  return {
    patient: patient.drive.id,
    family: patient.drive.data.family ?? null,
    examination: {
      ...{ measureFirst: isMeasuredFirst, mayBeDiode, ownBoardGood: isOwnBoardGood, holdsUserData },
      readings: Object.fromEntries(
        Object.entries(examination.readings).map(([key, { value, on }]) => [key, { value, on: on ?? null }]),
      ),
      inside: inside.map(({ outcome, says }) => ({ outcome: outcome ?? null, says })),
    },
    travels: {
      adaptives: plan.storedIn ?? null,
      key: plan.key ? { in: plan.key.in ?? null, certain: plan.key.isCertain } : null,
      rom: plan.actions ?? null,
      romTravels: travels ?? null,
    },
    hostNeeds: patient.family?.data.host_needs ?? [],
    ...Object.fromEntries(groups),
  };
}

function dataOf({ swap, verdict, odds, keys }: RankedDonor, snapshot: Snapshot): object {
  const { drive, family } = swap.donor;
  const { tried, doubt, chip } = donorFacts(swap, snapshot);
  const inspect = verdict.group === 'excluded' ? [] : keysToInspect(verdict.undecided, swap, snapshot);
  return {
    id: drive.id,
    parts: drive.data.parts ?? 'both',
    family: drive.data.family ?? null,
    board: drive.data.board?.id ?? null,
    rev: drive.data.board?.rev ?? null,
    against: verdict.against.map((rule) => lawData(rule, swap)),
    promises: verdict.promises.map((rule) => lawData(rule, swap)),
    undecided: verdict.undecided.map(({ record }) => record.id),
    shortOf: verdict.shortOf.map((rule) => ({ ...lawData(rule, swap), stage: rule.stage })),
    inspect: inspect.map(({ record, rev, key }) => ({ record, ...(rev === undefined ? {} : { rev }), key })),
    odds: oddsData(odds, snapshot),
    ...keys,
    chip: chip ? { package: chip.package ?? null, volts: chip.volts ?? null } : null,
    hostNeeds: family?.data.host_needs ?? [],
    doubt: doubt ? { outcome: doubt.outcome.id, about: doubt.about, says: doubt.says } : null,
    tried: tried.map(({ outcome, verdicts }) => ({
      outcome: outcome.id,
      reversed: outcome.data.patient === drive.id,
      reached: outcome.data.reached ?? null,
      result: verdicts[snapshot.config.worksAt].result,
    })),
  };
}

function oddsData(odds: RankedDonor['odds'], snapshot: Snapshot): object | null {
  const rate = odds && alikeRate(odds, snapshot);
  if (!rate) return null;
  const { count, exact, pooled } = rate;
  return { given: odds.given, pairs: count.pairs, works: count.votes, exact, pooled };
}

function lawData(rule: Rule, swap: Swap): object {
  return { rule: rule.record.id, because: plannedReasons(rule, swap) };
}
