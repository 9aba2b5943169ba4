import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord, RuleRecord } from '../model/record.ts';
import { type HoverBlock, type Phrase, sentence } from './hover-blocks.ts';
import type { HoverContext } from './hover-context.ts';
import { identityLines } from './identity-lines.ts';
import { pairLines } from './pair-lines.ts';
import { ruleLens } from './rule-lens.ts';
import { useLines } from './use-lines.ts';

/** Lines a hover has for what the base says. */
const mostLines = 3;

/** What the records of the base come to under a key; nothing before the base is indexed, or where there is nothing to say. */
export function baseSays(context: HoverContext): readonly HoverBlock[] {
  const { file, record } = context;
  if (!file.isIndexed || !record) return [];
  const families = familiesOf(record, file.snapshot);
  return baseBlock([
    ...ruleLines(context),
    ...identityLines(context),
    ...useLines(context, record, families),
    ...pairLines(context, families),
  ]);
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

/** How the outcomes stand to the rule that is hovered over. */
function ruleLines({ record, path, file }: HoverContext): readonly Phrase[] {
  const [key] = path;
  const isAboutAll = path.length === 1 && (key === 'claim' || key === 'when' || key === 'at_least' || key === 'stage');
  return record?.kind === 'rule' && isAboutAll ? standingLine(record, file.snapshot) : [];
}

/** How the outcomes stand to a rule; nothing where it is not applied. */
export function standingLine(rule: RuleRecord, snapshot: Snapshot): readonly Phrase[] {
  const lens = ruleLens(rule, snapshot);
  return lens?.figures ? [[sentence(lens.text)]] : [];
}
