/**
 * What an outcome is evidence of, at each stage.
 * Laws (test/property/evidence.property.test.ts):
 * - an outcome of two recorded drives works at every stage up to the one it reached, and at no other
 * - a control more never makes an eligible outcome ineligible, unless it shows damage
 * - what fails at a stage fails at every higher one where it is eligible
 */
import { type Side, type Swap, swapOf } from '../conditions/swap.ts';
import type { Changes } from '../index/changes.ts';
import { type Derivation, derive } from '../index/derivation.ts';
import { isEqual } from '../index/is-equal.ts';
import { affectedBy } from '../index/referrers.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { differingIds, findSorted, replaceSorted } from '../index/sorted.ts';
import { hasUnusable, isRetracted, type OutcomeRecord } from '../model/record.ts';
import { remembered } from '../terms/remembered.ts';
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

/** The evidence of the outcomes that count. */
interface EvidenceTable {
  /** By outcome id. */
  readonly list: readonly Evidence[];
  /** By outcome, as first computed. It is shared from one snapshot to the next, however large it is. */
  readonly first: ReadonlyMap<OutcomeRecord, Evidence>;
  /** By outcome, what came instead of it since then. */
  readonly since: ReadonlyMap<OutcomeRecord, Evidence>;
}

/** Evidence that is kept apart before the table is made anew, which lets go of what belonged to records that are gone. */
const mostSince = 1000;

function tableOf(list: readonly Evidence[]): EvidenceTable {
  return { list, first: new Map(list.map((one) => [one.outcome, one])), since: new Map() };
}

/** Outcomes between two yields. */
const outcomesPerStep = 20;

/** The evidence of every outcome that counts. */
export const evidenceTable: Derivation<EvidenceTable> = {
  name: 'evidence',
  *compute(snapshot) {
    const list: Evidence[] = [];
    for (const [position, outcome] of (yield* snapshot.recordsInSteps('outcome')).entries()) {
      if (!isRetracted(outcome)) list.push(computeEvidence(outcome, snapshot));
      if (position % outcomesPerStep === 0) yield;
    }
    return tableOf(list);
  },
  update({ list, first, since: before }, changes) {
    const { after } = changes;
    const since = new Map(before);
    const ids = new Set(changes.records.flatMap(({ kind, id }) => (kind === 'outcome' ? id : [])));
    for (const { kind, id } of affectedBy(changes)) if (kind === 'outcome') ids.add(id);
    const updated = replaceSorted(list, ids, outcomeIdOf, (id) => {
      const outcome = after.find('outcome', id);
      if (!outcome || isRetracted(outcome)) return undefined;
      const known = findSorted(list, id, outcomeIdOf);
      const current = computeEvidence(outcome, after);
      if (known && isSameEvidence(known, current)) return known;
      since.set(outcome, current);
      return current;
    });
    return since.size > mostSince ? tableOf(updated) : { list: updated, first, since };
  },
};

/** The evidence of an outcome, worked out once for as long as no record it rests on changes. */
export function evidenceOf(outcome: OutcomeRecord, snapshot: Snapshot): Evidence {
  const { first, since } = derive(evidenceTable, snapshot);
  return since.get(outcome) ?? first.get(outcome) ?? computeEvidence(outcome, snapshot);
}

/** The evidence of every outcome that counts, by id. Retracted outcomes are not among them. */
export function allEvidence(snapshot: Snapshot): readonly Evidence[] {
  return derive(evidenceTable, snapshot).list;
}

/** The ids of the outcomes whose evidence differs, comes or goes. Everything built on evidence asks for them. */
export const changedEvidence = remembered(({ before, after }: Changes) =>
  differingIds(allEvidence(before), allEvidence(after), outcomeIdOf),
);

/** The id that lists of evidence are sorted by. */
export function outcomeIdOf({ outcome }: Evidence): string {
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
  const missingAt = swap && missingProof(swap, proofs);
  const verdictAt = (stage: Stage): Verdict => {
    if (reached === undefined || !missingAt)
      return { result: 'inconclusive', isEligible: false, missing: [unreadable(outcome)] };
    const missing = missingAt(stage);
    const works = isAtLeast(reached, stage);
    if (missing.length === 0) return works ? proved.works : proved.fails;
    return { result: works ? 'works' : 'inconclusive', isEligible: false, missing };
  };
  const verdicts = {} as Record<Stage, Verdict>;
  for (const { name } of stages) verdicts[name] = verdictAt(name);
  return { outcome, swap, verdicts };
}

/** The verdicts of eligible outcomes, which are most, at any stage. */
const proved = {
  works: { result: 'works', isEligible: true, missing: [] },
  fails: { result: 'fails', isEligible: true, missing: [] },
} as const satisfies Record<string, Verdict>;

function unreadable(outcome: OutcomeRecord): Missing {
  const { patient, donor } = outcome.data;
  if (patient !== undefined && patient === donor)
    return { what: 'record', path: ['donor'], says: 'patient and donor are one drive, which is no swap' };
  const key = outcome.data.reached === undefined ? 'reached' : hasUnusable(outcome, 'patient') ? 'patient' : 'donor';
  return { what: 'record', path: [key], says: 'what was reached, the patient or the donor cannot be read' };
}
