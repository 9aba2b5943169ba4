/**
 * The boards on the shelf that could go on a patient: those that laws say work, those that are open, those that laws say do not.
 * Laws (test/property/rank-donors.property.test.ts):
 * - ranking by patterns of values is ranking one by one
 * - the order of the records changes nothing
 * - every candidate stands in one group, in the order of its odds, its matching keys and its id
 * - the groups alone are those of the ranking
 * - nothing is ranked while the next board may die as well
 */
import { romTravels } from '../conditions/rom-travels.ts';
import { type Side, type Swap, sideOf } from '../conditions/swap.ts';
import type { Truth } from '../conditions/truth.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { answersTo } from '../odds/family-means.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import { type AlikeOdds, alikeOdds } from './alike-odds.ts';
import { donorCandidates } from './donor-candidates.ts';
import { donorQuestions } from './donor-questions.ts';
import { type DonorVerdict, donorGroups, donorVerdict } from './donor-verdict.ts';
import { examinePatient, type PatientState } from './examine-patient.ts';
import { plannedSwap } from './planned-swap.ts';
import { type RomPlan, romPlanFor } from './rom-plan.ts';
import { type RulesInPlay, rulesInPlay } from './rules-in-play.ts';
import { type SharedKeys, sharedKeys } from './shared-keys.ts';

/** A board that could be lent, with the swap there would be and what is known of it. */
export interface RankedDonor {
  readonly swap: Swap;
  readonly verdict: DonorVerdict;
  /** Undefined where the patient's family is not recorded. */
  readonly odds: AlikeOdds | undefined;
  readonly keys: SharedKeys;
}

/** Everything there is to say before a board is chosen for a patient. */
export interface DonorRanking {
  readonly patient: Side;
  readonly state: PatientState;
  readonly plan: RomPlan;
  /** Whether the patient's adaptives come along if all is done as planned; undefined where that is not known. */
  readonly travels: Truth;
  readonly rules: RulesInPlay;
  /** Best first: by group, then odds, then matching keys, then id. Empty while the patient has to be measured first. */
  readonly donors: readonly RankedDonor[];
}

/** The ranking for a patient by the id of its drive; undefined where that is not recorded. */
export function rankDonors(id: string, snapshot: Snapshot): DonorRanking | undefined {
  const drive = snapshot.find('drive', id);
  if (!drive) return undefined;
  const patient = sideOf(drive, snapshot);
  const state = examinePatient(patient, snapshot);
  const plan = romPlanFor(patient);
  const rules = rulesInPlay(patient, snapshot);
  const candidates = state.isMeasuredFirst ? [] : donorCandidates(patient, { plan, rules }, snapshot);
  const travels = romTravels(plannedSwap(patient, drive, plan, snapshot));
  const judge = judgeSwaps({ patient, rules, travels }, snapshot);
  return {
    ...{ patient, state, plan, travels, rules },
    donors: candidates
      .map((donor) => plannedSwap(patient, donor, plan, snapshot))
      .map((swap) => ({ swap, ...judge(swap), keys: sharedKeys(swap) }))
      .sort(byRank),
  };
}

function byRank(a: RankedDonor, b: RankedDonor): number {
  return (
    donorGroups.indexOf(a.verdict.group) - donorGroups.indexOf(b.verdict.group) ||
    meanOf(b) - meanOf(a) ||
    b.keys.matching.length - a.keys.matching.length ||
    byCodeUnits(a.swap.donor.drive.id, b.swap.donor.drive.id)
  );
}

function meanOf({ odds }: RankedDonor): number {
  return odds?.mean ?? 0;
}

type Judgement = Pick<RankedDonor, 'verdict' | 'odds'>;

/** Judges planned swaps of one patient, and asks rules and odds once for donors that are alike: shelves are full of such. */
function judgeSwaps(
  { patient, rules, travels }: Pick<DonorRanking, 'patient' | 'rules' | 'travels'>,
  snapshot: Snapshot,
): (swap: Swap) => Judgement {
  const { limits, limitsAbove, promises, all } = rules;
  const laws = [...limits, ...limitsAbove, ...promises].map(({ rule }) => rule);
  const questions = donorQuestions([...laws, ...all].map(({ when }) => when));
  const family = patient.drive.data.family ?? '';
  const oddsOf = alikeOdds({ family, romTravels: travels, rules: all }, snapshot);
  const byPattern = new Map<string, Judgement>();
  return (swap) => {
    const pattern = answersTo(questions, swap);
    const known = byPattern.get(pattern) ?? { verdict: donorVerdict(swap, rules), odds: oddsOf(swap) };
    byPattern.set(pattern, known);
    return known;
  };
}
