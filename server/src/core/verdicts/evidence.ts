/**
 * What an outcome is evidence of, at each stage.
 * Laws (test/property/evidence.property.test.ts):
 * - an outcome of two recorded drives works at every stage up to the one it reached, and at no other
 * - a control more never makes an eligible outcome ineligible, unless it shows damage
 * - what fails at a stage fails at every higher one where it is eligible
 */
import { type Swap, swapOf } from '../conditions/swap.ts';
import type { Layer } from '../index/memo.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { hasUnusable, isRetracted, type OutcomeRecord } from '../model/record.ts';
import { isAtLeast, type Stage, stages } from '../terms/stages.ts';
import { type Missing, missingProof, type Proofs } from './eligibility.ts';

/** What an outcome says at one stage. `missing` lists what an eligible outcome would have; it is empty for an eligible one. */
export interface Verdict {
  readonly result: 'works' | 'fails' | 'inconclusive';
  readonly isEligible: boolean;
  readonly missing: readonly Missing[];
}

/** An outcome with the swap it is about and its verdict at each stage. */
export interface Evidence {
  readonly outcome: OutcomeRecord;
  /** Undefined where patient or donor is not recorded or not readable, or both are one; the outcome is inconclusive then. */
  readonly swap: Swap | undefined;
  readonly verdicts: Readonly<Record<Stage, Verdict>>;
}

const evidenceLayer: Layer<Evidence> = { name: 'evidence' };

/** The evidence of an outcome, computed once for as long as no record it rests on changes. */
export function evidenceOf(outcome: OutcomeRecord, snapshot: Snapshot): Evidence {
  const swap = swapOf(outcome, snapshot);
  const proof = findProof(outcome, snapshot);
  const { worksAt } = snapshot.config;
  const sides = swap ? [swap.patient, swap.donor] : [];
  const inputs = [outcome, proof, worksAt, ...sides.flatMap((side) => [side.drive, side.family, side.board])];
  return snapshot.layers
    .of(evidenceLayer)
    .get(outcome.id, inputs, () => computeEvidence(outcome, swap, { proof, worksAt }));
}

/** The evidence of every outcome that counts, by id. Retracted outcomes are not among them. */
export function allEvidence(snapshot: Snapshot): readonly Evidence[] {
  const evidence = known.get(snapshot) ?? findEvidence(snapshot);
  known.set(snapshot, evidence);
  return evidence;
}

/** Several checks ask for all evidence of one snapshot, and a snapshot never changes. */
const known = new WeakMap<Snapshot, readonly Evidence[]>();

function findEvidence(snapshot: Snapshot): Evidence[] {
  return snapshot
    .records('outcome')
    .filter((outcome) => !isRetracted(outcome))
    .map((outcome) => evidenceOf(outcome, snapshot));
}

/** The outcome named as proof of the patient's platters, where it is another one with the same patient that still counts. */
function findProof(outcome: OutcomeRecord, snapshot: Snapshot): OutcomeRecord | undefined {
  const proof = snapshot.find('outcome', outcome.data.controls?.hda_proved_by);
  if (!proof || proof === outcome || isRetracted(proof)) return undefined;
  return proof.data.patient !== undefined && proof.data.patient === outcome.data.patient ? proof : undefined;
}

function computeEvidence(outcome: OutcomeRecord, swap: Swap | undefined, proofs: Proofs): Evidence {
  const { reached } = outcome.data;
  const verdictAt = (stage: Stage): Verdict => {
    if (reached === undefined || !swap)
      return { result: 'inconclusive', isEligible: false, missing: [unreadable(outcome)] };
    const missing = missingProof(swap, stage, proofs);
    const isEligible = missing.length === 0;
    if (isAtLeast(reached, stage)) return { result: 'works', isEligible, missing };
    return { result: isEligible ? 'fails' : 'inconclusive', isEligible, missing };
  };
  const verdicts = Object.fromEntries(stages.map(({ name }) => [name, verdictAt(name)])) as Record<Stage, Verdict>;
  return { outcome, swap, verdicts };
}

function unreadable(outcome: OutcomeRecord): Missing {
  const { patient, donor } = outcome.data;
  if (patient !== undefined && patient === donor)
    return { what: 'record', path: ['donor'], says: 'patient and donor are one drive, which is no swap' };
  const key = outcome.data.reached === undefined ? 'reached' : hasUnusable(outcome, 'patient') ? 'patient' : 'donor';
  return { what: 'record', path: [key], says: 'what was reached, the patient or the donor cannot be read' };
}
