/**
 * What an editor can offer to do at a place of a text, to other files too. Whatever is offered was planned and read back.
 * Laws (test/property/actions.property.test.ts):
 * - what is offered changes something and reads without a new fault, whatever words are filled in
 */

import { configPath } from '../checks/config-invalid.ts';
import { spanOf } from '../checks/resolve-place.ts';
import { type EditableText, planEdits } from '../edits/plan-edits.ts';
import { isRefusal } from '../edits/text-edit.ts';
import { readText } from '../syntax/read-text.ts';
import type { Action, ActionContext, ActionDraft, ActionEdits, ActionRequest } from './action.ts';
import { blankMark, toSnippets } from './blanks.ts';
import { brokenRuleActions } from './broken-rule-actions.ts';
import type { CheckedText } from './checked-text.ts';
import { entriesAt } from './entries-at.ts';
import { fixAll, type Reach } from './fix-all.ts';
import { missingControlActions } from './missing-control-action.ts';
import { missingKeysActions } from './missing-keys-action.ts';
import { missingRecordActions } from './missing-record-action.ts';
import { resultActions, retractActions, sortActions } from './record-actions.ts';
import { weighFix } from './weigh-fix.ts';

/** What could be offered; some of it needs the texts of other files to be planned. */
export interface ActionPlan {
  /** Paths of the files whose texts are needed, the open one among them. */
  readonly files: readonly string[];
  /**
   * What is offered, given these texts, remedies of findings first. What cannot be carried out safely is left out, and nothing is sure
   * that would bring another finding.
   */
  readonly plan: (texts: ReadonlyMap<string, EditableText>) => Generator<undefined, readonly Action[]>;
}

const sources: readonly ((context: ActionContext) => readonly ActionDraft[])[] = [
  fixActions,
  resultActions,
  missingKeysActions,
  missingRecordActions,
  missingControlActions,
  brokenRuleActions,
  retractActions,
  sortActions,
];

/** What can be done at a stretch of an open text. */
export function actionsAt(request: ActionRequest): ActionPlan {
  const { file, only, hasSnippets } = request;
  const context = contextOf(request);
  const drafts = sources
    .flatMap((source) => source(context))
    .filter(({ kind, blanks }) => (only?.has(kind) ?? true) && (hasSnippets || !blanks?.length));
  const needed = drafts.flatMap(({ changes }) =>
    changes.flatMap((change) => (change.contentId === undefined ? [] : change.file)),
  );
  const isAllWanted = only?.has('fix-all') ?? false;
  const mended = isAllWanted ? request.findings.flatMap(({ fixes }) => fixes.flatMap(({ others = [] }) => others)) : [];
  return {
    files: [...new Set([file.path, ...needed, ...mended.map((other) => other.file)])],
    *plan(texts) {
      const text = texts.get(file.path);
      if (!text) return [];
      const checked = { path: file.path, text, runs: request.runs };
      const actions: Action[] = [];
      for (const draft of drafts) {
        const action = planned(draft, texts);
        if (action) actions.push({ ...action, isSure: yield* isSureIn(checked, draft) });
      }
      // Offered only where it is asked for: on every cursor it would be one entry too many.
      return isAllWanted ? [...actions, ...(yield* allFixes(checked, texts, request.reach))] : actions;
    },
  };
}

/** Whether an action is sure, and brings no finding. */
function* isSureIn(
  checked: CheckedText,
  { title, isSure, changes: [change, ...rest] }: ActionDraft,
): Generator<undefined, boolean> {
  if (!isSure || change?.contentId === undefined) return false;
  const { file, contentId, intents } = change;
  const others = rest.flatMap(({ becomes, contentId: id, ...other }) =>
    becomes === undefined || id === undefined ? [] : [{ ...other, contentId: id, becomes }],
  );
  return (yield* weighFix({ title, kind: 'fix', file, contentId, intents, others }, checked)).kind === 'fix';
}

function contextOf(request: ActionRequest): ActionContext {
  const { file, start, end, findings } = request;
  const contentId =
    file.path === configPath
      ? file.snapshot.configFile.contentId
      : (file.snapshot.files.get(file.path)?.contentId ?? '');
  const findingsHere = findings.filter(({ place }) => {
    const span = spanOf(file.tape, place.target);
    return place.contentId === contentId && span.end >= start && span.start <= end;
  });
  const [root, top] = entriesAt(file.tape, start);
  const document = root && Number(root.step);
  const placed = file.snapshot.files.get(file.path)?.facts.records.find((one) => one.document === document);
  const stands = placed && file.snapshot.findAny(placed.record.kind, placed.record.id) === placed.record;
  return {
    ...request,
    contentId,
    findingsHere,
    document,
    standing: stands ? file.snapshot.locate(placed.record) : undefined,
    topKey: typeof top?.step === 'string' ? top.step : undefined,
  };
}

/** The remedies that come with findings. */
function fixActions({ findingsHere }: ActionContext): readonly ActionDraft[] {
  return findingsHere.flatMap((finding) =>
    finding.fixes.map(({ title, kind, file, contentId, intents, others = [] }) => ({
      title,
      kind: 'quick-fix',
      isSure: kind === 'fix',
      findings: [finding],
      blanks: [],
      changes: [{ file, contentId, intents }, ...others],
    })),
  );
}

function* allFixes(
  checked: CheckedText,
  texts: ReadonlyMap<string, EditableText>,
  reach: Reach,
): Generator<undefined, readonly Action[]> {
  const { contentId, edits, others } = yield* fixAll(checked, reach);
  const own = { file: checked.path, contentId, edits, isNew: false, isSnippet: false };
  const title = 'Mend what follows from the file alone';
  const action = { title, kind: 'fix-all', isSure: false, findings: [] } as const;
  if (others.length === 0) return edits.length === 0 ? [] : [{ ...action, files: [own] }];
  const named = planned({ ...action, changes: others }, texts);
  // A file that cannot be changed after all must not leave its sum behind.
  if (!named) return yield* allFixes(checked, texts, 'file');
  return [{ ...named, files: [...(edits.length === 0 ? [] : [own]), ...named.files] }];
}

/** The action with its edits; undefined where a text has changed since, or has no place for them. */
function planned(
  { changes, blanks = [], ...draft }: ActionDraft,
  texts: ReadonlyMap<string, EditableText>,
): Action | undefined {
  const files: ActionEdits[] = [];
  for (const { file, contentId, intents } of changes) {
    if (intents.length === 0) continue;
    const text = contentId === undefined ? newText : texts.get(file);
    if (!text || text.contentId !== (contentId ?? newText.contentId)) return undefined;
    if (blanks.length > 0 && text.tape.text.includes(blankMark)) return undefined;
    const plan = planEdits(text, intents);
    if (isRefusal(plan) || plan.edits.length === 0) return undefined;
    const isSnippet = blanks.length > 0;
    const edits = isSnippet ? toSnippets(text.tape.text, plan.edits, blanks) : plan.edits;
    files.push({ file, contentId: plan.contentId, edits, isNew: contentId === undefined, isSnippet });
  }
  return files.length === 0 ? undefined : { isSure: false, findings: [], ...draft, files };
}

const newText: EditableText = { tape: readText('').tape, contentId: '' };
