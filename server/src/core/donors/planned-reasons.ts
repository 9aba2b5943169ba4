import { describeReason } from '../conditions/describe.ts';
import { type Reason, reasonsFor } from '../conditions/reasons.ts';
import { romActionsOf } from '../conditions/rom-travels.ts';
import type { Swap } from '../conditions/swap.ts';
import type { Rule } from '../reasoning/rule.ts';
import { inARow } from '../text/in-a-row.ts';

/** What makes a rule's condition true or false on a planned swap, as clauses: both sides' values, and where each comes from. */
export function plannedReasons({ when }: Rule, swap: Swap): readonly string[] {
  return reasonsFor(when, swap).map((reason) => plannedReason(reason, swap));
}

/** What is planned has not been done. */
function plannedReason(reason: Reason, swap: Swap): string {
  const actions = romActionsOf(swap.outcome);
  if (reason.atom.test !== 'rom_travels' || !actions) return describeReason(reason, swap);
  const storedIn = swap.patient.family?.data.adaptives?.stored_in ?? 'not recorded';
  return `the ROM is to be ${inARow(actions)}, and adaptives are in \`${storedIn}\``;
}
