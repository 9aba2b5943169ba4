// How rules stand to each other, over 400 laws of 20 families: reading them is a small part of it.
import { Snapshot } from '../../../server/src/core/index/snapshot.ts';
import { readConfig } from '../../../server/src/core/model/config.ts';
import { readFileFacts } from '../../../server/src/core/model/file-facts.ts';
import { ruleRelations } from '../../../server/src/core/reasoning/rule-relations.ts';
import { manyRules } from '../base/many-rules.ts';

const encoder = new TextEncoder();
const snapshot = Snapshot.of(
  { contentId: '', reading: readConfig(encoder.encode('swaplore: 1\n')) },
  manyRules().map(({ path, text }) => ({ path, contentId: path, facts: readFileFacts(encoder.encode(text)) })),
);
const { conflicts, undecided } = ruleRelations(snapshot);
if (conflicts.length === 0 || undecided.length > 0) {
  throw new Error(`${conflicts.length} conflicts and ${undecided.length} questions that were not decided`);
}
