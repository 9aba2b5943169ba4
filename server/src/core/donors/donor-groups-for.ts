import { sideOf } from '../conditions/swap.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { examinationOf, mayTakeNextBoard } from '../verdicts/examination.ts';
import { donorCandidates } from './donor-candidates.ts';
import { type DonorGroup, donorVerdict } from './donor-verdict.ts';
import { plannedSwap } from './planned-swap.ts';
import { romPlanFor } from './rom-plan.ts';
import { rulesInPlay } from './rules-in-play.ts';

/**
 * The group of every donor of a ranking by its id, without odds and keys, which take many more steps. Empty where the patient is not
 * recorded or has to be measured first.
 */
export function donorGroupsFor(id: string, snapshot: Snapshot): ReadonlyMap<string, DonorGroup> {
  const drive = snapshot.find('drive', id);
  if (!drive || mayTakeNextBoard(examinationOf(drive))) return new Map();
  const patient = sideOf(drive, snapshot);
  const plan = romPlanFor(patient);
  const rules = rulesInPlay(patient, snapshot);
  const candidates = donorCandidates(patient, { plan, rules }, snapshot);
  return new Map(
    candidates.map((donor) => [donor.id, donorVerdict(plannedSwap(patient, donor, plan, snapshot), rules).group]),
  );
}
