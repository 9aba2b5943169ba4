import type { Derivation } from '../index/derivation.ts';
import type { Layer } from '../index/memo.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { BoardRecord } from '../model/record.ts';
import { mentionsOf } from './mentions.ts';
import { namesUnknown } from './names-unknown.ts';
import { type Rule, rulesOf } from './rule.ts';
import { impossibleRules } from './rule-relations.ts';

/** A law that outcomes are held against together. */
export interface Law {
  readonly rule: Rule;
  /** The recorded boards its condition names. */
  readonly boards: readonly BoardRecord[];
}

const lawLayer: Layer<Law> = { name: 'law' };
const lawsLayer: Layer<readonly Law[]> = { name: 'laws' };

/**
 * The laws that take part in joint reasoning, by id. Left out are those that nothing can meet or break, and those that name something
 * unrecorded: both were reported, and may be all there is to a contradiction.
 */
export function lawsOf(snapshot: Snapshot): readonly Law[] {
  return snapshot.derive(laws);
}

/** Asked for many times a run, while what it rests on is many records to compare. */
const laws: Derivation<readonly Law[]> = {
  name: 'laws',
  compute: findLaws,
  update: (_, { after }) => findLaws(after),
};

function findLaws(snapshot: Snapshot): readonly Law[] {
  const rules = rulesOf(snapshot);
  const impossible = impossibleRules(snapshot);
  const kinds = ['rule', 'family', 'board', 'maker'] as const;
  const inputs = [rules, impossible, ...kinds.flatMap((kind): readonly unknown[] => snapshot.records(kind))];
  return snapshot.layers.of(lawsLayer).get('', inputs, () => {
    const sound = rules.filter(
      (rule) => rule.atLeast === undefined && !impossible.has(rule) && !namesUnknown(rule, snapshot),
    );
    return sound.map((rule) => lawOf(rule, snapshot));
  });
}

/** The id of a law's rule. */
export function lawId({ rule }: Law): string {
  return rule.record.id;
}

/** The same object for as long as the rule and the boards it names stay the same. */
function lawOf(rule: Rule, snapshot: Snapshot): Law {
  const boards = [...mentionsOf([rule]).boards].flatMap((id) => snapshot.find('board', id) ?? []);
  return snapshot.layers.of(lawLayer).get(rule.record.id, [rule, ...boards], () => ({ rule, boards }));
}
