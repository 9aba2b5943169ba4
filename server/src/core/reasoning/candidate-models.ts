/**
 * Guesses at swaps that tell two rules apart. A guess costs next to nothing to try, and one that holds saves a question to the
 * solver; one that does not says nothing.
 */
import { isRevisionKey, partOfRevision, type RevisionKey } from '../conditions/cell.ts';
import type { SideKey, SideName } from '../conditions/formula.ts';
import type { Model } from '../solver/solver.ts';
import { toValue } from '../solver/sorts.ts';
import type { Slot, Value } from '../solver/terms.ts';
import { foldText } from '../text/fold.ts';
import type { Mentions } from './mentions.ts';
import { type Background, claim, factOf, factSlot, makerSlot, sideSlot, travels } from './possible-swap.ts';
import type { Rule } from './rule.ts';

/** How a guess fills in what a model leaves open: whether both sides have one board, and whether they agree in the rest. */
const manners = [
  { hasOneBoard: true, agrees: true },
  { hasOneBoard: false, agrees: true },
  { hasOneBoard: false, agrees: false },
] as const;

/** Values that put a swap into the scope of a rule, as far as families and makers go: where guesses about it begin. */
export function modelInScope({ record }: Rule): Model {
  const { families = [], makers = [] } = record.data.applies_to ?? {};
  const [family, maker] = [families[0], makers[0]];
  const values = new Map<string, Value>();
  if (family !== undefined) values.set(sideSlot('patient', 'family').name, foldText(family));
  if (maker !== undefined) values.set(makerSlot.name, foldText(maker));
  return { values, flags: new Map() };
}

/**
 * Models that give a value to everything these rules speak of and keep the values of `start`. Whether they fit the background is
 * for the caller to see.
 */
export function* candidateModels(start: Model, mentions: Mentions, background: Background): Generator<Model> {
  for (const manner of manners) yield new Guess(start, mentions, background, manner).model();
}

class Guess {
  private readonly values: Map<string, Value>;

  constructor(
    private readonly start: Model,
    private readonly mentions: Mentions,
    private readonly background: Background,
    private readonly manner: (typeof manners)[number],
  ) {
    this.values = new Map(start.values);
  }

  model(): Model {
    const { hasOneBoard, agrees } = this.manner;
    for (const key of ['board', 'rev'] as const) this.fill(key, hasOneBoard);
    this.fill('family', agrees);
    for (const key of this.mentions.sideKeys) {
      if (isRevisionKey(key)) for (const side of ['patient', 'donor'] as const) this.fillPart(side, key);
      this.fill(key, agrees);
    }
    const family = this.background.families.find(
      ({ id }) => id === this.values.get(sideSlot('patient', 'family').name),
    );
    for (const key of this.mentions.facts) {
      const recorded = family && factOf(family, key);
      this.set(factSlot(key), recorded === undefined ? anyValue(factSlot(key), 0) : toValue(recorded));
    }
    this.set(makerSlot, family?.data.maker ?? 'new-1');
    const flags = new Map([[travels.name, agrees], [claim.name, false], ...this.start.flags]);
    if (this.values.get(factSlot('adaptives').name) === 'platters') flags.set(travels.name, true);
    return { values: this.values, flags };
  }

  private set(slot: Slot, value: Value): void {
    if (!this.values.has(slot.name)) this.values.set(slot.name, value);
  }

  private fill(key: SideKey, agrees: boolean): void {
    const [patient, donor] = [sideSlot('patient', key), sideSlot('donor', key)];
    const [here, there] = [this.values.get(patient.name), this.values.get(donor.name)];
    const start = here ?? there ?? anyValue(patient, 0);
    const other = anyValue(patient, 0) === start ? anyValue(patient, 1) : anyValue(patient, 0);
    this.set(patient, here ?? (agrees || there === undefined ? start : other));
    this.set(donor, there ?? (agrees ? start : other));
  }

  /** A part that the side's recorded revision settles. */
  private fillPart(side: SideName, key: RevisionKey): void {
    const [board, rev] = [this.values.get(sideSlot(side, 'board').name), this.values.get(sideSlot(side, 'rev').name)];
    const revision = this.background.revisions.find((one) => one.board.id === board && one.name === rev);
    const [value] = (revision && partOfRevision(revision.data, key)) ?? [];
    if (value !== undefined) this.set(sideSlot(side, key), toValue(value));
  }
}

/** One of two values of a slot that nothing names, if it can be had. */
function anyValue({ sort }: Slot, position: 0 | 1): Value {
  if (typeof sort.holds !== 'string') return sort.holds[position] ?? sort.holds[0] ?? '';
  if (sort.holds === 'texts') return position === 0 ? 'new-1' : 'new-2';
  return (sort.usualFrom ?? 1) + position;
}
