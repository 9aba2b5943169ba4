import type { PlacedChange, RuleChange, RuleStanding } from '../review/review.ts';
import type { Review } from '../review/review-change.ts';
import { type Kind, kinds, pluralOf } from '../terms/kinds.ts';
import { severities } from '../terms/severities.ts';
import { inARow } from '../text/in-a-row.ts';
import { plural } from '../text/plural.ts';
import { countBySeverity } from './counts-in-words.ts';
import type { Block } from './document.ts';

/** What a change comes to, in a few sentences for somebody who reads no further. */
export function reviewSummary(review: Review): Block[] {
  const parts = [recordsText(review), rulesText(review), oddsText(review), settingsText(review)];
  const said = parts.filter((part) => part !== '');
  const first = said.length === 0 ? [nothingDiffers] : said;
  return [
    { kind: 'paragraph', text: first.join(' ') },
    { kind: 'paragraph', text: `${findingsText(review)}${mergeText(review)}` },
  ];
}

const nothingDiffers =
  'No record and no setting says anything else than before. Notes, comments, and where and in which order things stand do not count.';

function recordsText({ records: { added, changed, removed } }: Review): string {
  const retracted = changed.filter(({ turn }) => turn === 'retracted');
  const parts = [
    clause('adds', added),
    clause(
      'alters',
      changed.filter(({ turn }) => turn !== 'retracted'),
    ),
    clause('retracts', retracted),
    clause('removes', removed),
  ].filter((part) => part !== '');
  return parts.length === 0 ? '' : `The change ${joined(parts)}.`;
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

type Counted = 'support' | 'against';

/** What becomes of rules: each is named once, for the gravest thing there is to say. */
function rulesText({ rules, standings }: Review): string {
  const named = new Set<string>();
  const say = (ids: readonly string[], one: string, several: string): string => {
    const news = ids.filter((id) => !named.has(id));
    for (const id of news) named.add(id);
    return ruleSentence(news, one, several);
  };
  const flipsTo = (standing: RuleStanding): readonly string[] =>
    standings.rules.filter(({ after }) => after === standing).map(({ id }) => id);
  const where = (isMeant: (change: RuleChange) => boolean): readonly string[] =>
    rules.filter(isMeant).map(({ id }) => id);
  const grows = (of: Counted) => (change: RuleChange) => countOn(change, 'after', of) > countOn(change, 'before', of);
  const shrinks = (of: Counted) => (change: RuleChange) => countOn(change, 'after', of) < countOn(change, 'before', of);
  return [
    say(flipsTo('against'), 'is broken now', 'are broken now'),
    say(flipsTo('impossible'), 'can no longer be met or broken', 'can no longer be met or broken'),
    say(
      where(({ before, after }) => before !== undefined && after === undefined),
      'is no longer applied',
      'are no longer applied',
    ),
    say(where(grows('against')), 'has more against it than before', 'have more against them than before'),
    say(where(shrinks('against')), 'has less against it than before', 'have less against them than before'),
    say(flipsTo('untested'), 'is tested by no outcome', 'are tested by no outcome'),
    say(where(shrinks('support')), 'loses support', 'lose support'),
    say(where(grows('support')), 'gains support', 'gain support'),
  ]
    .filter((sentence) => sentence !== '')
    .join(' ');
}

function countOn(change: RuleChange, side: 'before' | 'after', of: Counted): number {
  return change[side]?.[of].length ?? 0;
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
  const news = severities.flatMap((severity) =>
    counts[severity] === 0 ? [] : [plural(counts[severity], words[severity])],
  );
  const isAre = (count: number): string => `${count} ${count === 1 ? 'is' : 'are'}`;
  const parts = [
    news.length === 0 ? 'none is new' : `${joined(news)} ${findings.new.length === 1 ? 'is' : 'are'} new`,
    ...(findings.gone.length === 0 ? [] : [`${isAre(findings.gone.length)} gone`]),
    ...(findings.still === 0 ? [] : [`${isAre(findings.still)} as before`]),
  ];
  return `Findings: ${parts.join('; ')}.`;
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
