import type { Scalar } from '../conditions/formula.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { ruleRelations } from '../reasoning/rule-relations.ts';
import type { Witness } from '../reasoning/witness.ts';

/** A swap that shows a conflict. Keys that may hold any value are left out; `new-1` and the like stand for what is not recorded. */
interface WitnessData {
  readonly patient: Readonly<Record<string, Scalar>>;
  readonly donor: Readonly<Record<string, Scalar>>;
  readonly rom?: string;
  readonly family?: string;
  /** The maker of the family, where it decides. */
  readonly maker?: string;
  /** What the family would have to be besides what is recorded of it. */
  readonly familyIs?: Readonly<Record<string, Scalar>>;
  /** Present where it rests on a claim that the donor's revision works in place of the patient's. */
  readonly dropIn?: true;
}

/** What rules have to do with each other, as data. */
export interface RuleRelationsData {
  /** Rules that can never both hold, by id, the earlier first, with a smallest swap that shows it. */
  readonly conflicts: readonly { readonly rules: readonly [string, string]; readonly witness: WitnessData }[];
  /** Rules that say nothing which another does not. */
  readonly implied: readonly { readonly rule: string; readonly by: string }[];
  /** Rules that nothing can meet or nothing can break. */
  readonly impossible: readonly string[];
}

/** How the rules of a base stand to each other, in the shape of the JSON output. */
export function collectRelations(snapshot: Snapshot): RuleRelationsData {
  const { conflicts, implied, impossible } = ruleRelations(snapshot);
  return {
    conflicts: conflicts.map(({ enough, other, witness }) => {
      const ids = [enough.record.id, other.record.id] as const;
      return { rules: ids[0] < ids[1] ? ids : [ids[1], ids[0]], witness: toData(witness) };
    }),
    implied: implied.map(({ rule, by }) => ({ rule: rule.record.id, by: by.record.id })),
    impossible: impossible.map(({ rule }) => rule.record.id),
  };
}

function toData({ patient, donor, rom, family, maker, facts, dropIn }: Witness): WitnessData {
  return {
    patient,
    donor,
    ...(rom === undefined ? {} : { rom }),
    ...(family === undefined ? {} : { family }),
    ...(maker === undefined ? {} : { maker }),
    ...(Object.keys(facts).length === 0 ? {} : { familyIs: facts }),
    ...(dropIn ? { dropIn: true } : {}),
  };
}
