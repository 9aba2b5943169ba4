import type { PlacedChange, RuleChange } from '../review/review.ts';
import type { Review } from '../review/review-change.ts';
import { type Kind, kinds, pluralOf } from '../terms/kinds.ts';
import { severities } from '../terms/severities.ts';
import { inARow } from '../text/in-a-row.ts';
import { plural } from '../text/plural.ts';
import { countBySeverity } from './counts-in-words.ts';
import type { Block } from './document.ts';

/** What a change comes to, in a few sentences for somebody who reads no further. */
export function reviewSummary(review: Review): Block[] {
  const parts = [recordsText(review), rulesText(review.rules), oddsText(review), settingsText(review)];
  const said = parts.filter((part) => part !== '');
  const first = said.length === 0 ? ['Nothing that anything is computed from differs.'] : said;
  return [
    { kind: 'paragraph', text: first.join(' ') },
    { kind: 'paragraph', text: `${findingsText(review)}${mergeText(review)}` },
  ];
}

function recordsText({ records: { added, changed, removed } }: Review): string {
  const retracted = changed.filter(({ turn }) => turn === 'retracted');
  const parts = [
    clause('adds', added),
    clause(
      'changes',
      changed.filter(({ turn }) => turn !== 'retracted'),
    ),
    clause('retracts', retracted),
    clause('removes', removed),
  ].filter((part) => part !== '');
  return parts.length === 0 ? '' : `This change ${joined(parts)}.`;
}

function clause(verb: string, records: readonly PlacedChange[]): string {
  const counts = kinds.flatMap((kind) => {
    const count = records.filter(({ record }) => record.kind === kind).length;
    return count === 0 ? [] : [countOf(count, kind)];
  });
  return counts.length === 0 ? '' : `${verb} ${joined(counts)}`;
}

function countOf(count: number, kind: Kind): string {
  return `${count} ${count === 1 ? kind : pluralOf(kind)}`;
}

/** Rules that a summary names for each thing it says of them. */
const mostNamed = 4;

function rulesText(rules: readonly RuleChange[]): string {
  const named = (isMeant: (change: RuleChange) => boolean): readonly string[] =>
    rules.filter(isMeant).map(({ id }) => id);
  const count = (change: RuleChange, side: 'before' | 'after', of: 'support' | 'against'): number =>
    change[side]?.[of].length ?? 0;
  const grows = (of: 'support' | 'against') => (change: RuleChange) =>
    count(change, 'after', of) > count(change, 'before', of);
  const shrinks = (of: 'support' | 'against') => (change: RuleChange) =>
    change.after !== undefined && count(change, 'after', of) < count(change, 'before', of);
  return [
    ruleSentence(named(grows('against')), 'now has more against it', 'now have more against them'),
    ruleSentence(named(shrinks('against')), 'has less against it than before', 'have less against them than before'),
    ruleSentence(named(grows('support')), 'gains support', 'gain support'),
    ruleSentence(named(shrinks('support')), 'loses support', 'lose support'),
    ruleSentence(
      named(({ before, after }) => before !== undefined && after === undefined),
      'is no longer applied',
      'are no longer applied',
    ),
  ]
    .filter((sentence) => sentence !== '')
    .join(' ');
}

function ruleSentence(ids: readonly string[], one: string, several: string): string {
  if (ids.length === 0) return '';
  if (ids.length > mostNamed) return `${ids.length} rules ${several}.`;
  return `${ids.length === 1 ? 'Rule' : 'Rules'} ${inARow(ids)} ${ids.length === 1 ? one : several}.`;
}

function oddsText({ odds }: Review): string {
  if (odds.length === 0) return '';
  if (odds.length > mostNamed) return `The odds of ${odds.length} families differ.`;
  return `The odds of ${inARow(odds.map(({ family }) => family))} differ.`;
}

function settingsText({ config }: Review): string {
  const hidden = config.reduce((sum, { hides }) => sum + hides.length, 0);
  if (config.length === 0) return '';
  const differs = `${plural(config.length, 'setting')} of \`swaplore.yaml\` ${config.length === 1 ? 'differs' : 'differ'}`;
  return hidden === 0
    ? `${differs}.`
    : `${differs}, which makes ${plural(hidden, 'finding')} of this base weigh less or vanish.`;
}

function findingsText({ findings }: Review): string {
  const counts = countBySeverity(findings.new);
  const words = { error: 'error', warning: 'warning', info: 'note' };
  const parts = severities.flatMap((severity) =>
    counts[severity] === 0 ? [] : [plural(counts[severity], `new ${words[severity]}`)],
  );
  const gone =
    findings.gone.length === 0
      ? ''
      : `${plural(findings.gone.length, 'finding')} ${findings.gone.length === 1 ? 'is' : 'are'} gone, and `;
  const still = `${gone}${findings.still === 0 ? 'none' : findings.still} ${findings.still === 1 ? 'stands' : 'stand'} as before.`;
  return `${parts.length === 0 ? 'There is no new finding' : `There ${counts.error + counts.warning + counts.info === 1 ? 'is' : 'are'} ${joined(parts)}`}; ${still}`;
}

function mergeText({ onMerge }: Review): string {
  if (!onMerge) return '';
  if (onMerge.length === 0) return ' Merged with what the base has become meanwhile, nothing else comes up.';
  return ` Merged with what the base has become meanwhile, ${plural(onMerge.length, 'finding')} that neither side has alone ${onMerge.length === 1 ? 'comes' : 'come'} up.`;
}

function joined(parts: readonly string[]): string {
  const last = parts.at(-1) ?? '';
  return parts.length < 2 ? last : `${parts.slice(0, -1).join(', ')} and ${last}`;
}
