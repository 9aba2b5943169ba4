/**
 * What has to be recorded of a possible swap so that a condition is known to hold, or known not to: the three values of
 * conditions, said with the two of the solver. For every key there is a flag that it is recorded.
 */

import type { ComparableKey } from '../../../../schemas/gen/key-table.ts';
import { isRevisionKey, partOfRevision, type RevisionKey } from '../conditions/cell.ts';
import type { Atom, FamilyKey, Formula, SideKey, SideName } from '../conditions/formula.ts';
import { hasUnusable } from '../model/record.ts';
import { atomConstraint } from '../solver/condition-constraint.ts';
import { toValue } from '../solver/sorts.ts';
import {
  all,
  any,
  type Constraint,
  equal,
  type Flag,
  flag,
  hasValue,
  implies,
  isIn,
  known,
  not,
  type Slot,
  type Value,
} from '../solver/terms.ts';
import { splitRevision } from '../terms/revision-name.ts';
import {
  type Background,
  claim,
  factOf,
  factSlot,
  isAt,
  makerSlot,
  possibleTerms,
  type Revision,
  sideSlot,
  travels,
} from './possible-swap.ts';
import type { Rule } from './rule.ts';
import { scopeConstraint } from './rule-constraints.ts';

/** That a slot's value is recorded. */
export function isRecorded(slot: Slot): Flag {
  return flag(`recorded ${slot.name}`);
}

/** That what was done about the ROM is recorded. */
export const isRomRecorded: Flag = flag('recorded rom');

/** That the donor's revision is a new one which claims to work in place of the patient's. */
export const isClaimNew: Flag = flag('recorded claim');

/**
 * What can be recorded only where something else is: a revision with its board, and parts that a drive's own record has no place
 * for with that.
 */
const standsWith: readonly (readonly [SideKey, SideKey])[] = [
  ['rev', 'board'],
  ['contact_pads', 'rev'],
  ['rom_package', 'rev'],
];

/** What is known of a possible swap before the recorded families and revisions of a background. */
export class Knowledge {
  constructor(private readonly background: Background) {}

  /** That a swap is known to lie in a rule's scope. */
  scope(rule: Rule): Constraint {
    const { families = [], makers = [], made } = rule.record.data.applies_to ?? {};
    return all(
      scopeConstraint(rule),
      ...(families.length > 0 ? [isRecorded(sideSlot('patient', 'family'))] : []),
      ...(makers.length > 0 ? [this.isMakerKnown()] : []),
      ...(made === undefined ? [] : [isRecorded(sideSlot('patient', 'made'))]),
    );
  }

  /** That a condition is known to hold, or not to. */
  condition(formula: Formula, wanted: boolean): Constraint {
    switch (formula.op) {
      case 'not':
        return this.condition(formula.part, !wanted);
      case 'atom':
        return this.atom(formula.atom, wanted);
      default: {
        const parts = formula.parts.map((part) => this.condition(part, wanted));
        return (formula.op === 'all') === wanted ? all(...parts) : any(...parts);
      }
    }
  }

  /** What records can hold: values only beside those they stand with, and none where one stands that cannot be read. */
  rules(facts: Iterable<FamilyKey>): Constraint {
    const family = sideSlot('patient', 'family');
    const keys = [...facts];
    const isOf = (id: string): Constraint => equal(family, known(id));
    return all(
      ...(['patient', 'donor'] as const).flatMap((side) =>
        standsWith.map(([key, other]) => implies(isRecorded(sideSlot(side, key)), isRecorded(sideSlot(side, other)))),
      ),
      ...[...keys.map(factSlot), makerSlot].map((slot) => implies(isRecorded(slot), isRecorded(family))),
      ...this.background.families.flatMap((record) =>
        keys.some((key) => hasUnusable(record, key)) ? [not(isOf(record.id))] : [],
      ),
      ...this.background.revisions.flatMap((revision) =>
        revision.board.unusable.length === 0
          ? []
          : (['patient', 'donor'] as const).map((side) =>
              not(equal(sideSlot(side, 'board'), known(revision.board.id))),
            ),
      ),
    );
  }

  private atom(atom: Atom, wanted: boolean): Constraint {
    const constraint = atomConstraint(atom, possibleTerms);
    const is = wanted ? constraint : not(constraint);
    switch (atom.test) {
      case 'same':
        return this.same(atom.key, wanted);
      case 'rom_travels':
        return this.romTravels(wanted);
      case 'drop_in':
        return this.dropIn(wanted);
      case 'made_within':
        return all(is, isRecorded(sideSlot('patient', 'made')), isRecorded(sideSlot('donor', 'made')));
      case 'family':
        return all(is, this.isFactKnown(atom.key));
      case 'side':
        if (atom.key === 'rev' && 'anyOf' in atom.accepts) return this.revision(atom.side, atom.accepts.anyOf, wanted);
        return any(all(is, this.isKnown(atom.side, atom.key)), ...this.byList(atom, wanted));
    }
  }

  private same(key: ComparableKey, wanted: boolean): Constraint {
    const isEqual = equal(sideSlot('patient', key), sideSlot('donor', key));
    const isKnown = all(this.isKnown('patient', key), this.isKnown('donor', key));
    if (wanted) return all(isEqual, isKnown, ...(key === 'rev' ? [this.same('board', true)] : []));
    const differs = all(not(isEqual), isKnown);
    if (key === 'rev') return any(this.same('board', false), differs);
    return any(differs, ...(isRevisionKey(key) ? this.differentByLists(key) : []));
  }

  /** Image written, the adaptives travel wherever they are kept; that they did not is known only with the place. */
  private romTravels(wanted: boolean): Constraint {
    const isPlaceKnown = this.isFactKnown('adaptives');
    if (!wanted) return all(not(travels), isRomRecorded, isPlaceKnown);
    return all(travels, any(isRomRecorded, all(equal(factSlot('adaptives'), known('platters')), isPlaceKnown)));
  }

  private dropIn(wanted: boolean): Constraint {
    const areKnown = all(isRecorded(sideSlot('patient', 'rev')), isRecorded(sideSlot('donor', 'rev')));
    if (!wanted) return any(this.same('board', false), all(this.same('rev', false), not(claim), areKnown));
    const isOld = any(...this.background.revisions.map((revision) => isAt('donor', revision)));
    const isClaimed = all(claim, areKnown, any(isOld, isClaimNew));
    return all(this.same('board', true), any(this.same('rev', true), isClaimed));
  }

  private revision(side: SideName, names: readonly (string | number | boolean)[], wanted: boolean): Constraint {
    const parts = names.map((name) => {
      const { board, rev } = splitRevision(String(name));
      const atBoard = isRecorded(sideSlot(side, 'board'));
      const isBoard = isIn(sideSlot(side, 'board'), { anyOf: [toValue(board)] });
      const isRev = isIn(sideSlot(side, 'rev'), { anyOf: [toValue(rev)] });
      const isNamed = isRecorded(sideSlot(side, 'rev'));
      return wanted ? all(isBoard, atBoard, isRev, isNamed) : any(all(not(isBoard), atBoard), all(not(isRev), isNamed));
    });
    return wanted ? any(...parts) : all(...parts);
  }

  private isKnown(side: SideName, key: SideKey): Constraint {
    if (!isRevisionKey(key)) return isRecorded(sideSlot(side, key));
    const settled = this.background.revisions.filter(({ data }) => partOfRevision(data, key)?.length === 1);
    return any(isRecorded(sideSlot(side, key)), ...settled.map((revision) => this.isKnownAt(side, revision)));
  }

  private isKnownAt(side: SideName, revision: Revision): Constraint {
    return all(isAt(side, revision), isRecorded(sideSlot(side, 'board')), isRecorded(sideSlot(side, 'rev')));
  }

  /** The recorded revisions with alternatives for a part, with these. */
  private listsOf(key: RevisionKey): (readonly [Revision, readonly Value[]])[] {
    return this.background.revisions.flatMap((revision) => {
      const choices = partOfRevision(revision.data, key) ?? [];
      return choices.length > 1 ? [[revision, choices.map(toValue)] as const] : [];
    });
  }

  /** A part known only to be one of a list is decided where every choice agrees. */
  private byList({ side, key, accepts }: Extract<Atom, { test: 'side' }>, wanted: boolean): Constraint[] {
    if (!isRevisionKey(key) || !('anyOf' in accepts)) return [];
    const set = { anyOf: accepts.anyOf.map(toValue) };
    return this.listsOf(key)
      .filter(([, choices]) => choices.every((choice) => hasValue(set, choice) === wanted))
      .map(([revision]) => this.isKnownAt(side, revision));
  }

  /** Two parts are known to differ where no choice of the one is the other, or one of its choices. */
  private differentByLists(key: RevisionKey): Constraint[] {
    const lists = this.listsOf(key);
    const sides = [
      ['patient', 'donor'],
      ['donor', 'patient'],
    ] as const;
    const againstKnown = lists.flatMap(([revision, choices]) =>
      sides.map(([side, other]) =>
        all(
          this.isKnownAt(side, revision),
          this.isKnown(other, key),
          not(isIn(sideSlot(other, key), { anyOf: choices })),
        ),
      ),
    );
    const againstLists = lists.flatMap(([revision, choices]) =>
      lists
        .filter(([, others]) => !others.some((value) => choices.includes(value)))
        .map(([other]) => all(this.isKnownAt('patient', revision), this.isKnownAt('donor', other))),
    );
    return [...againstKnown, ...againstLists];
  }

  private isFactKnown(key: FamilyKey): Constraint {
    const recorded = this.background.families.filter((family) => factOf(family, key) !== undefined);
    return any(isRecorded(factSlot(key)), this.isOneOf(recorded.map(({ id }) => id)));
  }

  private isMakerKnown(): Constraint {
    const recorded = this.background.families.filter(({ data }) => data.maker !== undefined);
    return any(isRecorded(makerSlot), this.isOneOf(recorded.map(({ id }) => id)));
  }

  private isOneOf(families: readonly string[]): Constraint {
    const slot = sideSlot('patient', 'family');
    return all(isRecorded(slot), isIn(slot, { anyOf: families }));
  }
}
