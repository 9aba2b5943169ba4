/**
 * Conditions that somebody types for one question, held against schema and base the way the condition of a rule is.
 * Laws (test/property/given-condition.property.test.ts):
 * - a condition that a rule may have is read as that rule's
 * - reading never throws, whatever was typed
 */
import type { ConditionData } from '../../../../schemas/gen/records.ts';
import { type Formula, toFormula } from '../conditions/formula.ts';
import type { BaseFile, Snapshot } from '../index/snapshot.ts';
import { readTextFacts } from '../model/file-facts.ts';
import { danglingReference } from './dangling-reference.ts';
import type { Check, Draft } from './define-check.ts';
import { duplicateKey } from './duplicate-key.ts';
import { schema } from './schema.ts';
import { tooDeep } from './too-deep.ts';
import { unknownKey } from './unknown-key.ts';
import { unknownRevision } from './unknown-revision.ts';
import { yamlSyntax } from './yaml-syntax.ts';

/** A condition as read, or what is wrong with it in one sentence, with what to do where that is sure. */
export type GivenCondition =
  | { readonly data: ConditionData; readonly formula: Formula }
  | { readonly message: string; readonly help?: string | undefined };

/** The checks that say what may be wrong with a condition, in the order in which they are asked. */
const checks: readonly Check[] = [
  ...[yamlSyntax, tooDeep, duplicateKey, unknownKey, schema],
  ...[danglingReference, unknownRevision],
];

const id = 'given';

/** Reads a condition in YAML flow form, such as `{rom_travels: true, same: [rev]}`. */
export function readGivenCondition(typed: string, snapshot: Snapshot): GivenCondition {
  // On one line nothing that was typed can become a key beside `when`.
  const line = typed.replaceAll(/[\r\n\u0085\u2028\u2029]+/g, ' ').trim();
  if (!line.startsWith('{')) return { message: 'A condition in YAML flow form is needed.', help: example };
  const facts = readTextFacts(`kind: rule\nid: ${id}\nclaim: needs\nwhen: ${line}\n`);
  const [problem] = checks.flatMap((check) => draftsOf(check, { path: id, contentId: '', facts }, snapshot));
  if (problem)
    return {
      message: problem.message.replace(ownName, 'The condition').replace(' in `when`,', ','),
      help: problem.help,
    };
  const [placed] = facts.records;
  if (facts.faults.length > 0 || placed?.record.kind !== 'rule')
    return { message: 'The condition cannot be read.', help: example };
  const data = placed.record.data.when ?? {};
  return { data, formula: toFormula(data, []) };
}

const ownName = new RegExp(`^(Rule \`${id}\`|This record)`);

const example = "Such as --given '{rom_travels: true, same: [rev]}'.";

function draftsOf(check: Check, file: BaseFile, snapshot: Snapshot): readonly Draft[] {
  if (check.scope === 'file') return [...check.run(file)];
  if (check.scope !== 'record') return [];
  // Neither of those that look at a record looks at the day.
  return file.facts.records.flatMap(({ record }) => [...check.run(record, snapshot, 0)]);
}
