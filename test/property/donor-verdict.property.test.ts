import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { evaluate } from '../../server/src/core/conditions/evaluate.ts';
import { type DonorRanking, rankDonors } from '../../server/src/core/donors/rank-donors.ts';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { isInScope, type Rule, rulesOf } from '../../server/src/core/reasoning/rule.ts';
import { stages } from '../../server/src/core/terms/stages.ts';
import { arbitraryShelf } from '../harness/arbitrary-shelf.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { openSlots, replaceRecord } from '../harness/open-slots.ts';
import { snapshotOfBase } from '../harness/snapshot-of.ts';

function rankings(snapshot: Snapshot): DonorRanking[] {
  return snapshot.records('drive').flatMap(({ id }) => rankDonors(id, snapshot) ?? []);
}

const ranks = stages.map(({ name }) => name);

/** Laws of a claim whose stage stands in this relation to the one at which a swap works, and in whose scope the patient is. */
function laws(
  snapshot: Snapshot,
  { patient }: DonorRanking,
  isMeant: (rule: Rule, difference: number) => boolean,
): Rule[] {
  const worksAt = ranks.indexOf(snapshot.config.worksAt);
  return rulesOf(snapshot).filter(
    (rule) =>
      rule.atLeast === undefined &&
      isInScope(rule, patient) === true &&
      isMeant(rule, ranks.indexOf(rule.stage) - worksAt),
  );
}

describe('verdicts on donors', () => {
  it('a donor is excluded if and only if a law is against it', () => {
    const seen = { excluded: 0, others: 0 };
    assertLaw(
      100,
      fc.property(arbitraryShelf, (base) => {
        const snapshot = snapshotOfBase(base);
        for (const ranking of rankings(snapshot)) {
          const limits = laws(snapshot, ranking, ({ claim }, difference) => claim !== 'enough' && difference <= 0);
          for (const { swap, verdict } of ranking.donors) {
            const broken = limits.filter(({ claim, when }) => evaluate(when, swap) === (claim === 'prevents'));
            // What rests on a name that nobody recorded is no law to go by.
            expect(broken).toEqual(expect.arrayContaining([...verdict.against]));
            expect(verdict.group === 'excluded').toBe(verdict.against.length > 0);
            if (broken.length === 0) expect(verdict.group).not.toBe('excluded');
            seen[verdict.group === 'excluded' ? 'excluded' : 'others']++;
          }
        }
      }),
    );
    expectOften(Math.min(seen.excluded, seen.others), 100);
  });

  it('a donor that fits meets a law that promises it works, and none is against it', () => {
    let fitting = 0;
    assertLaw(
      100,
      fc.property(arbitraryShelf, (base) => {
        const snapshot = snapshotOfBase(base);
        for (const ranking of rankings(snapshot)) {
          const promises = laws(snapshot, ranking, ({ claim }, difference) => claim === 'enough' && difference >= 0);
          for (const { swap, verdict } of ranking.donors.filter((donor) => donor.verdict.group === 'fits')) {
            fitting++;
            expect(verdict.against).toEqual([]);
            expect(promises.some(({ when }) => evaluate(when, swap) === true)).toBe(true);
          }
        }
      }),
    );
    expectOften(fitting, 50);
  });

  it('learning a value never takes a donor out of the excluded, and never takes a promise away', () => {
    let learnt = 0;
    assertLaw(
      60,
      fc.property(arbitraryShelf, fc.array(fc.nat(), { minLength: 5, maxLength: 20 }), (start, picks) => {
        let base = start;
        let before = namedVerdicts(snapshotOfBase(base));
        for (const pick of picks) {
          const slots = openSlots(base);
          const slot = slots[pick % slots.length];
          if (!slot) return;
          base = replaceRecord(base, slot.learn(Math.floor(pick / slots.length)));
          const after = namedVerdicts(snapshotOfBase(base));
          for (const [name, { against, promises }] of before) {
            expect(after.get(name)?.against, `${name} after ${slot.name}`).toEqual(expect.arrayContaining(against));
            expect(after.get(name)?.promises, `${name} after ${slot.name}`).toEqual(expect.arrayContaining(promises));
          }
          before = after;
          learnt++;
        }
      }),
    );
    expectOften(learnt, 200);
  });
});

/** The laws that speak, by patient and donor. */
function namedVerdicts(snapshot: Snapshot): Map<string, { against: string[]; promises: string[] }> {
  const idsOf = (rules: readonly Rule[]): string[] => rules.map(({ record }) => record.id);
  return new Map(
    rankings(snapshot).flatMap(({ patient, donors }) =>
      donors.map(({ swap, verdict }) => [
        `${patient.drive.id} with ${swap.donor.drive.id}`,
        { against: idsOf(verdict.against), promises: idsOf(verdict.promises) },
      ]),
    ),
  );
}
