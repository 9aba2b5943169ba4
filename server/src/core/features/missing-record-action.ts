import type { Finding } from '../checks/finding.ts';
import type { Intent, Value } from '../edits/intent.ts';
import { type KeyRow, keyNodes } from '../schema/key-rows.ts';
import { type Reference, referencesIn } from '../schema/references.ts';
import { type Kind, kinds } from '../terms/kinds.ts';
import { splitRevision } from '../terms/revision-name.ts';
import type { ActionContext, ActionDraft } from './action.ts';
import { Blanks } from './blanks.ts';
import { homeFor } from './home-for.ts';
import { requiredValues } from './required-values.ts';

/**
 * Makes the record that a reference leads to and nobody wrote: in a file of its own or behind those of its kind, as the base has it.
 * In the text at hand what the record needs is asked for. Elsewhere an editor would not ask, and would take the first of a choice for
 * the answer; so there the keys stay empty, which counts as absent, and the checks ask for them.
 */
export function missingRecordActions(context: ActionContext): readonly ActionDraft[] {
  const { findingsHere } = context;
  const found = findingsHere.flatMap((finding) => {
    const reference = finding.check === 'dangling-reference' ? referenceAt(context, finding) : undefined;
    return reference ? [{ finding, ...namedBy(reference) }] : [];
  });
  return found.flatMap(({ finding, kind, id }, position) => {
    const isFirst = found.findIndex((other) => other.kind === kind && other.id === id) === position;
    return isFirst ? (draftOf(context, { finding, kind, id }) ?? []) : [];
  });
}

interface Wanted {
  readonly finding: Finding;
  readonly kind: Kind;
  readonly id: string;
}

function draftOf(context: ActionContext, { finding, kind, id }: Wanted): ActionDraft | undefined {
  const { file, hasSnippets, hasNewFiles } = context;
  const { snapshot } = file;
  // Named as one kind and recorded as another: the name is wrong, not the base.
  if (kinds.some((other) => snapshot.findAny(other, id))) return undefined;
  const home = homeFor({ file, kind, id });
  if (!home || (home.contentId === undefined && !hasNewFiles)) return undefined;
  const blanks = new Blanks();
  const asks = hasSnippets && home.file === file.path;
  const fill = (row: KeyRow): Value => (asks ? blanks.addValue(row) : '');
  const rows = (keyNodes[kind] ?? []).filter(({ name }) => name !== 'kind' && name !== 'id');
  const value = { kind, id, ...requiredValues(rows, fill) };
  const intents: readonly Intent[] = [{ intent: 'create', value }];
  return {
    title: `Record the ${kind} \`${id}\` in ${home.contentId === undefined ? 'the new file ' : ''}\`${home.file}\``,
    kind: 'quick-fix',
    findings: [finding],
    blanks: blanks.list,
    changes: [{ ...home, intents }],
  };
}

function referenceAt({ file }: ActionContext, { place: { target } }: Finding): Reference | undefined {
  if (!('document' in target)) return undefined;
  const records = file.snapshot.files.get(file.path)?.facts.records ?? [];
  const record = records.find(({ document }) => document === target.document)?.record;
  if (!record) return undefined;
  const name = JSON.stringify(target.path);
  return referencesIn(record.kind, record.data).find(({ path }) => JSON.stringify(path) === name);
}

/** The record a reference names; of a revision its board. */
function namedBy({ refersTo, id }: Reference): { readonly kind: Kind; readonly id: string } {
  return refersTo === 'revision' ? { kind: 'board', id: splitRevision(id).board } : { kind: refersTo, id };
}
