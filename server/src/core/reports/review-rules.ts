import { placeIn } from '../features/record-places.ts';
import { countedRelations } from '../reasoning/rule-results.ts';
import type { Review, RuleChange, RuleFlip, RuleStanding } from '../review/review.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import { inARow } from '../text/in-a-row.ts';
import { outcomeIdOf } from '../verdicts/evidence.ts';
import type { Block, Item } from './document.ts';
import { section } from './section.ts';

/** Rules that are spelt out. */
const mostRules = 60;

/** Outcomes that are named for a rule. */
const mostNamed = 5;

/** The rules of which the outcomes say something else, or that are taken for something else, those in trouble first. */
export function rulesSection({ rules, standings, change: { after } }: Review): Block[] {
  const flips = new Map(standings.rules.map((flip) => [flip.id, flip]));
  const changes = new Map(rules.map((change) => [change.id, change]));
  const ids = [...new Set([...changes.keys(), ...flips.keys()])].sort(byCodeUnits);
  const isInTrouble = (id: string): boolean => flips.get(id)?.after !== undefined && flips.get(id)?.after !== 'stands';
  const ordered = [...ids.filter(isInTrouble), ...ids.filter((id) => !isInTrouble(id))];
  const items = ordered.slice(0, mostRules).map((id): Item => {
    const [standing] = after.standings('rule', id);
    const lines = [...standingLines(flips.get(id)), ...countLines(changes.get(id))];
    return { name: `\`${id}\``, lines, ...(standing ? { place: placeIn(standing, ['id']) } : {}) };
  });
  const more = ordered.length - items.length;
  const rest: Block[] =
    more > 0 ? [{ kind: 'paragraph', text: `${more} more are left out; the JSON output has all.` }] : [];
  return section('Rules', items.length === 0 ? [] : [{ kind: 'items', items }, ...rest]);
}

const standingWords: Readonly<Record<RuleStanding, string>> = {
  stands: 'It stands: outcomes decide it, and do not break it.',
  against: 'It is broken: an outcome is against it.',
  impossible: 'Nothing can come of it: no swap can meet it, or none can break it.',
  untested: 'It is untested: no outcome decides it.',
};

function standingLines(flip: RuleFlip | undefined): string[] {
  if (!flip) return [];
  return [flip.after === undefined ? 'It is no longer applied.' : standingWords[flip.after]];
}

function countLines(change: RuleChange | undefined): string[] {
  if (!change) return [];
  const counts = countedRelations.flatMap((name) => {
    const [then, now] = [change.before?.[name].length ?? 0, change.after?.[name].length ?? 0];
    if (then + now === 0) return [];
    return [`${name} ${then === now ? now : `${then} → ${now}`}`];
  });
  const isSame = countedRelations.every((name) => change.before?.[name].length === change.after?.[name].length);
  const rest = isSame ? ': as many as before, but not the same ones' : '';
  return [...(counts.length === 0 ? [] : [`Outcomes: ${counts.join(', ')}${rest}.`]), ...againstLine(change)];
}

/** The outcomes that are against it and were not. */
function againstLine({ before, after }: RuleChange): string[] {
  const known = new Set(before?.against.map(outcomeIdOf));
  const ids = (after?.against ?? []).map(outcomeIdOf).filter((id) => !known.has(id));
  if (ids.length === 0) return [];
  const more = ids.length - mostNamed;
  return [`Newly against it: ${inARow(ids.slice(0, mostNamed))}${more > 0 ? ` and ${more} more` : ''}.`];
}
