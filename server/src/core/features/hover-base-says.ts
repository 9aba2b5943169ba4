import { referrersOf } from '../index/referrers.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { findSorted } from '../index/sorted.ts';
import { type AnyRecord, isRetracted } from '../model/record.ts';
import { type PairGroup, splitPairs } from '../odds/split-pairs.ts';
import { ruleResults } from '../reasoning/rule-results.ts';
import { rounded } from '../text/rounded.ts';
import { evidenceByFamily } from '../verdicts/evidence-by-family.ts';
import { comparableAt } from './comparable-at.ts';
import { type HoverBlock, type Phrase, phrase } from './hover-blocks.ts';
import type { HoverContext } from './hover-context.ts';
import { countValues, type ValueCounts } from './value-counts.ts';

/** Lines a hover has for what the base says. */
const mostLines = 3;

/** What the records of the base come to under a key; nothing before the base is indexed, or where there is nothing to say. */
export function baseSays(context: HoverContext): readonly HoverBlock[] {
  if (!context.file.isIndexed || !context.record) return [];
  const lines = [...ruleLines(context), ...valueLines(context), ...pairLines(context)];
  return baseBlock(lines);
}

/** The lines of the base as a block, or none. */
export function baseBlock(lines: readonly Phrase[]): readonly HoverBlock[] {
  return lines.length === 0 ? [] : [{ kind: 'base', lines: lines.slice(0, mostLines) }];
}

/** The families a record is about. */
function familiesOf(record: AnyRecord, snapshot: Snapshot): readonly string[] {
  switch (record.kind) {
    case 'family':
      return [record.id];
    case 'board':
      return record.data.families ?? [];
    case 'drive':
      return record.data.family === undefined ? [] : [record.data.family];
    case 'outcome': {
      const family = snapshot.find('drive', record.data.patient)?.data.family;
      return family === undefined ? [] : [family];
    }
    case 'rule':
      return record.data.applies_to?.families ?? [];
    case 'maker':
      return [];
  }
}

/** How often each value is in use: in outcomes and drives within the family, elsewhere within the kind. */
function valueLines(context: HoverContext): readonly Phrase[] {
  const { row, record, path, side, file } = context;
  if (!record || record.kind === 'rule' || side === 'value' || row.name === 'kind') return [];
  const isChoice = row.values !== undefined || row.type === 'boolean';
  if (!isChoice && row.comparableAs === undefined) return [];
  const keys = path.filter((step) => typeof step === 'string');
  const { snapshot } = file;
  if (record.kind !== 'outcome' && record.kind !== 'drive') {
    const all = snapshot.records(record.kind) as readonly AnyRecord[];
    const name = record.kind === 'family' ? 'families' : `${record.kind}s`;
    const counts = countValues(all, record.kind, keys, () => all.filter((one) => !isRetracted(one)));
    return inUse([`In the ${name} of this base: `], counts);
  }
  const [family] = familiesOf(record, snapshot);
  if (family === undefined || row.comparableAs === 'family') return [];
  if (record.kind === 'drive') {
    const referrers = referrersOf(family, snapshot);
    const drives = (): AnyRecord[] =>
      [...referrers].filter((one) => one.kind === 'drive' && one.data.family === family && !isRetracted(one));
    return inUse(phrase`In the drives of ${family}: `, countValues(referrers, `drive ${family}`, keys, drives));
  }
  const evidence = evidenceByFamily(snapshot).get(family);
  if (!evidence) return [];
  const outcomes = (): AnyRecord[] => evidence.map(({ outcome }) => outcome);
  return inUse(phrase`In the outcomes of ${family}: `, countValues(evidence, 'outcome', keys, outcomes));
}

/** Values that are listed by name. */
const mostValues = 5;

function inUse(begin: Phrase, { values, without }: ValueCounts): readonly Phrase[] {
  // What the record at hand holds by itself is no news.
  if (values.reduce((sum, { records }) => sum + records, without) < 2 || values.length === 0) return [];
  const shown = values.length > mostValues + 1 ? values.slice(0, mostValues) : values;
  const left = values.length - shown.length;
  const parts = [
    ...shown.map(({ value, records }) => phrase`${value} ${records}`),
    ...(left > 0 ? [phrase`${left} other values`] : []),
    ...(without > 0 ? [phrase`not recorded ${without}`] : []),
  ];
  return [[...begin, ...parts.flatMap((part, position) => (position === 0 ? part : [', ', ...part])), '.']];
}

/** How pairs with an equal value fared beside those with different ones; of the ROM, those it travelled with beside those without. */
function pairLines(context: HoverContext): readonly Phrase[] {
  const { record, row, file } = context;
  if (!record) return [];
  const families = familiesOf(record, file.snapshot);
  if (romKeys.has(row.name)) return families.flatMap((family) => romLine(family, file.snapshot));
  const key = comparableAt(context);
  if (key === undefined || key === 'family') return [];
  const [only, ...others] = families;
  const isAlone = others.length === 0 && only !== undefined;
  return families.flatMap((family) => {
    const groups = splitPairs(family, key, file.snapshot);
    const line = (travels: boolean): readonly Phrase[] => {
      const begin = phrase`In ${family}${romWords(family, travels, file.snapshot)}: `;
      return agreement(
        begin,
        key,
        groups.filter(({ romTravels }) => romTravels === travels),
      );
    };
    return isAlone ? [...line(true), ...line(false)] : line(true);
  });
}

/** Says whether the ROM travelled, where that is a question at all. */
function romWords(family: string, travels: boolean, snapshot: Snapshot): Phrase {
  if (isKeptOnPlatters(family, snapshot)) return [];
  return [travels ? ', ROM travelled' : ', ROM left behind'];
}

function isKeptOnPlatters(family: string, snapshot: Snapshot): boolean {
  return snapshot.find('family', family)?.data.adaptives?.stored_in === 'platters';
}

/** Keys that decide whether the ROM travels. */
const romKeys: ReadonlySet<string> = new Set([
  'rom',
  'rom_from',
  'rom_proved',
  'rom_travels',
  'adaptives',
  'stored_in',
]);

function agreement(begin: Phrase, key: string, groups: readonly PairGroup[]): readonly Phrase[] {
  const [first, second] = groups;
  if (!first) return [];
  const agreeing = (isSame: boolean | undefined): string => (isSame ? 'equal' : 'different');
  const worked = phrase`${votesIn(first)} with ${[agreeing(first.isSame)]} ${key} worked`;
  const others = second
    ? [`, ${rounded(second.votes, 1)} of ${second.pairs} with ${agreeing(second.isSame)} ones`]
    : [];
  return [[...begin, ...worked, ...others, '.']];
}

/** How a family's pairs fared with the ROM and without it. */
export function romLine(family: string, snapshot: Snapshot): readonly Phrase[] {
  const [first, second] = splitPairs(family, undefined, snapshot);
  if (!first) return [];
  const travelled = (travels: boolean): string => (travels ? 'where the ROM travelled' : 'where it was left behind');
  const where = isKeptOnPlatters(family, snapshot) ? '' : ` ${travelled(first.romTravels)}`;
  const others = second ? [`, ${rounded(second.votes, 1)} of ${second.pairs} ${travelled(second.romTravels)}`] : [];
  return [[...phrase`In ${family}: ${votesIn(first)} worked`, where, ...others, '.']];
}

function votesIn({ votes, pairs }: PairGroup): Phrase {
  return [`${rounded(votes, 1)} of ${pairs} controlled ${pairs === 1 ? 'pair' : 'pairs'}`];
}

/** How the outcomes stand to the rule that is hovered over. */
function ruleLines({ record, path, file }: HoverContext): readonly Phrase[] {
  const [key] = path;
  const isAboutAll = path.length === 1 && (key === 'claim' || key === 'when' || key === 'at_least' || key === 'stage');
  return record?.kind === 'rule' && isAboutAll ? standingLine(record.id, file.snapshot) : [];
}

/** The counts of a rule by its id; nothing where it cannot be applied. */
export function standingLine(id: string, snapshot: Snapshot): readonly Phrase[] {
  const result = findSorted(ruleResults(snapshot), id, ({ rule }) => rule.record.id);
  if (!result) return [];
  const { support, against, undecided, excepted } = result;
  const parts = [
    `${support.length} ${support.length === 1 ? 'outcome' : 'outcomes'} in support`,
    `${against.length} against`,
    `${undecided.length} undecided`,
    ...(excepted.length > 0 ? [`${excepted.length} excepted`] : []),
  ];
  return [[`${parts.join(', ')}.`]];
}
