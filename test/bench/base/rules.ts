import type { Random } from './random.ts';
import type { Value } from './record-writer.ts';
import { type Counts, groupOf } from './sizes.ts';
import type { Factor, Family } from './things.ts';

/** A rule that holds in the generated world. */
export interface Rule {
  readonly id: string;
  readonly appliesTo: { readonly [key: string]: Value } | undefined;
  readonly claim: 'needs' | 'enough' | 'prevents';
  readonly when: { readonly [key: string]: Value };
  readonly stage: string | undefined;
  readonly atLeast: number | undefined;
  readonly basis: string;
  /** Whether one outcome of its family breaks it, which is to be excepted. */
  readonly isBroken: boolean;
}

/** The lowest stage out of reach without a factor. */
export const blockedStage: Readonly<Record<Factor, 'ready' | 'detected' | 'reads'>> = {
  rom: 'ready',
  contact_pads: 'ready',
  preamp: 'ready',
  revision: 'detected',
  head_stack_code: 'detected',
  firmware: 'reads',
};

const ruleStages = ['ready', 'detected', 'reads'] as const;

/** The rules in the file of the family at a position: none, or two that are about the same drives. */
export function makeRules(random: Random, counts: Counts, family: Family, position: number): readonly Rule[] {
  const rules: Rule[] = [];
  for (let rule = 0; rule < counts.rules; rule++) {
    const first = rule - (rule % 2);
    if (groupOf(first, counts.rules, counts.families) !== position) continue;
    const own = random.fork(`rule ${rule}`);
    rules.push(rule % 2 === 0 ? makeFirstRule(own, family, rule) : makeSecondRule(own, family));
  }
  return rules;
}

/** One rule of all is about every drive, some are about a maker's, the rest about the family's. */
function makeFirstRule(random: Random, family: Family, rule: number): Rule {
  const common = { atLeast: undefined, isBroken: false };
  if (rule === 0) {
    const when = { same: ['board'] };
    return {
      ...common,
      id: 'board-alike',
      appliesTo: undefined,
      claim: 'needs',
      when,
      stage: 'detected',
      basis: 'measured',
    };
  }
  if (rule % 14 === 8) {
    const when = { different: ['contact_pads'], family_is: { interface: family.interface } };
    const id = `${family.maker.id}-${family.id}-pads`;
    const appliesTo = { makers: [family.maker.id] };
    return { ...common, id, appliesTo, claim: 'prevents', when, stage: 'ready', basis: 'common_practice' };
  }
  return factorRule(random, family, family.factors.has('rom') && random.chance(0.6) ? 'rom' : 'revision');
}

function makeSecondRule(random: Random, family: Family): Rule {
  const kind = random.weighted([[4, 'law'] as const, [3, 'rate'] as const, [3, 'factor'] as const]);
  const rest = [...family.factors].filter((factor) => factor !== 'rom' && factor !== 'revision');
  if (kind === 'factor') return factorRule(random, family, random.pick(rest));
  return {
    id: `${family.id}-${kind === 'law' ? 'all-it-takes' : 'mostly-comes-up'}`,
    appliesTo: { families: [family.id] },
    claim: 'enough',
    when: allFactors(family, random.pick(['same', 'drop_in'])),
    stage: undefined,
    atLeast: kind === 'law' ? undefined : random.pick([0.6, 0.7, 0.75]),
    basis: random.pick(['measured', 'common_practice']),
    isBroken: false,
  };
}

/** All that a swap in this family takes: whatever any other rule asks for is part of it, so that no two can conflict. */
function allFactors(family: Family, revision: string): { readonly [key: string]: Value } {
  const same = [...family.factors].filter((factor) => factor !== 'rom' && factor !== 'revision');
  return { ...(family.factors.has('rom') ? { rom_travels: true } : {}), revision, same };
}

/** One thing that a swap in this family takes, put in one of several ways. */
function factorRule(random: Random, family: Family, factor: Factor): Rule {
  const has = holds(factor);
  const lacks = fails(factor);
  const [claim, when, isWeak] = random.pick<readonly [Rule['claim'], Rule['when'], boolean]>([
    ['needs', has, false],
    ['prevents', lacks, false],
    ['needs', { none: [lacks] }, false],
    ['prevents', { ...lacks, family_is: { interface: [family.interface, 'scsi'] } }, false],
    ['needs', { any: [has, { same: ['sticker', 'site'], made_within_weeks: 1 }] }, true],
  ]);
  const isBroken = factor === 'rom' && family.isStoredInRecorded && !isWeak && random.chance(0.7);
  const { from, to } = family.made;
  const years = !isBroken && random.chance(0.25) ? { made: { from, to: to - 1 } } : {};
  return {
    id: `${family.id}-${factor.replaceAll('_', '-')}-${random.pick(['first', 'alike', 'counts'])}`,
    appliesTo: { families: [family.id], ...years },
    claim,
    when,
    stage: random.pick([...ruleStages.slice(ruleStages.indexOf(blockedStage[factor])), undefined]),
    atLeast: undefined,
    basis: random.pick(['measured', 'measured', 'maker_document', 'common_practice', 'hearsay']),
    isBroken,
  };
}

function holds(factor: Factor): Rule['when'] {
  if (factor === 'rom') return { rom_travels: true };
  return factor === 'revision' ? { revision: 'drop_in' } : { same: [factor] };
}

function fails(factor: Factor): Rule['when'] {
  if (factor === 'rom') return { rom_travels: false };
  return factor === 'revision' ? { revision: 'other' } : { different: [factor] };
}

/** Whether a family has a law that says what is enough, so that nothing that meets it may fail with every control in place. */
export function hasEnoughLaw(rules: readonly Rule[]): boolean {
  return rules.some((rule) => rule.claim === 'enough' && rule.atLeast === undefined);
}
