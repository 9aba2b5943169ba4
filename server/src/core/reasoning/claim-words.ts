import { describeFormula } from '../conditions/describe.ts';
import type { Rule } from './rule.ts';

/** What a rule says of `subject`, as a clause: "a swap needs `same: [rev]`", "`same: [rev]` is enough". */
export function claimWords({ claim, when }: Rule, subject: string): string {
  const condition = `\`${describeFormula(when)}\``;
  switch (claim) {
    case 'needs':
      return `${subject} needs ${condition}`;
    case 'enough':
      return `${condition} is enough`;
    case 'prevents':
      return `${condition} prevents it`;
  }
}
