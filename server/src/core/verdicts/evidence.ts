/**
 * What an outcome is evidence of, at each stage.
 * Laws (test/property/evidence.property.test.ts):
 * - an outcome of two recorded drives works at every stage up to the one it reached, and at no other
 * - a control more never makes an eligible outcome ineligible, unless it shows damage
 * - what fails at a stage fails at every higher one where it is eligible
 */
import { type Side, type Swap, swapOf } from '../conditions/swap.ts';
import type { Derivation } from '../index/derivation.ts';
import { isEqual } from '../index/is-equal.ts';
import { affectedBy } from '../index/referrers.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { findSorted, replaceSorted } from '../index/sorted.ts';
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

/** The evidence of the outcomes that count, by id. */
const evidence: Derivation<readonly Evidence[]> = {
  name: 'evidence',
  compute: (snapshot) =>
    snapshot
      .records('outcome')
      .filter((outcome) => !isRetracted(outcome))
      .map((outcome) => computeEvidence(outcome, snapshot)),
  update: (value, changes) => {
    const { after } = changes;
    const ids = new Set(changes.records.flatMap(({ kind, id }) => (kind === 'outcome' ? id : [])));
    for (const { kind, id } of affectedBy(changes)) if (kind === 'outcome') ids.add(id);
    return replaceSorted(value, ids, idOf, (id) => {
      const outcome = after.find('outcome', id);
      if (!outcome || isRetracted(outcome)) return undefined;
      const known = findSorted(value, id, idOf);
      const current = computeEvidence(outcome, after);
      return known && isSameEvidence(known, current) ? known : current;
    });
  },
};

/** The evidence of an outcome, worked out once for as long as no record it rests on changes. */
export function evidenceOf(outcome: OutcomeRecord, snapshot: Snapshot): Evidence {
  const known = findSorted(snapshot.derive(evidence), outcome.id, idOf);
  return known?.outcome === outcome ? known : computeEvidence(outcome, snapshot);
}

/** The evidence of every outcome that counts, by id. Retracted outcomes are not among them. */
export function allEvidence(snapshot: Snapshot): readonly Evidence[] {
  return snapshot.derive(evidence);
}

function idOf({ outcome }: Evidence): string {
  return outcome.id;
}

/** Whether two evidences rest on the very same records and say the same. */
function isSameEvidence(a: Evidence, b: Evidence): boolean {
  return a.outcome === b.outcome && isSameSwap(a.swap, b.swap) && isEqual(a.verdicts, b.verdicts);
}

function isSameSwap(a: Swap | undefined, b: Swap | undefined): boolean {
  if (!a || !b) return a === b;
  return isSameSide(a.patient, b.patient) && isSameSide(a.donor, b.donor);
}

function isSameSide(a: Side, b: Side): boolean {
  return a.drive === b.drive && a.family === b.family && a.board === b.board;
}

/** The outcome named as proof of the patient's platters, where it is another one with the same patient that still counts. */
function findProof(outcome: OutcomeRecord, snapshot: Snapshot): OutcomeRecord | undefined {
  const proof = snapshot.find('outcome', outcome.data.controls?.hda_proved_by);
  if (!proof || proof === outcome || isRetracted(proof)) return undefined;
  return proof.data.patient !== undefined && proof.data.patient === outcome.data.patient ? proof : undefined;
}

function computeEvidence(outcome: OutcomeRecord, snapshot: Snapshot): Evidence {
  const swap = swapOf(outcome, snapshot);
  const proofs: Proofs = { proof: findProof(outcome, snapshot), worksAt: snapshot.config.worksAt };
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
