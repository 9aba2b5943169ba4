import { isRetracted } from '../model/record.ts';
import { formatDate } from '../terms/calendar.ts';
import { evidenceOf } from '../verdicts/evidence.ts';
import type { ActionContext, ActionDraft } from './action.ts';
import { Blanks } from './blanks.ts';

/** Whether to offer what can be done to any record: where it begins, or where such actions are asked for. Everywhere it would be one entry too many. */
function isWanted({ topKey, only }: ActionContext): boolean {
  return only !== undefined || topKey === 'kind' || topKey === 'id';
}

/** Keeps a record for the record only; the reason is asked for. */
export function retractActions(context: ActionContext): readonly ActionDraft[] {
  const { file, contentId, standing, today } = context;
  if (!standing || !isWanted(context) || isRetracted(standing.record)) return [];
  const { document, record } = standing;
  const blanks = new Blanks();
  const value = { on: blanks.add({ suggestion: formatDate(today) }), because: blanks.addWords() };
  const title = `Retract the ${record.kind} \`${record.id}\`, with the reason`;
  const changes = [
    { file: file.path, contentId, intents: [{ intent: 'set', document, path: ['retracted'], value } as const] },
  ];
  return [{ title, kind: 'refactor', blanks: blanks.list, changes }];
}

/** Puts all keys of a record into the order of the schema. Where they have it, nothing comes of it. */
export function sortActions(context: ActionContext): readonly ActionDraft[] {
  const { file, contentId, document } = context;
  if (document === undefined || !isWanted(context)) return [];
  const intents = [{ intent: 'sort', document, path: [] } as const];
  const title = 'Sort the keys as the schema has them';
  return [{ title, kind: 'refactor', changes: [{ file: file.path, contentId, intents }] }];
}

/** Gives an outcome the result that follows from it, where it has none that can be read. */
export function resultActions({ file, contentId, findingsHere, standing }: ActionContext): readonly ActionDraft[] {
  if (!file.isIndexed || standing?.record.kind !== 'outcome') return [];
  const { record, document } = standing;
  const findings = findingsHere.filter(
    ({ check, place: { target } }) =>
      check === 'schema' && 'path' in target && target.document === document && target.path[0] === 'result',
  );
  // What follows from values that cannot be read is not known.
  const isReadable = record.data.reached !== undefined && record.unusable.every(([key]) => key === 'result');
  const { swap, verdicts } = evidenceOf(record, file.snapshot);
  const { result: value, missing } = verdicts[file.snapshot.config.worksAt];
  const isKnown = value !== 'inconclusive' || missing.every(({ what }) => what !== 'record');
  if (findings.length === 0 || !isReadable || !swap || !isKnown) return [];
  const intents = [{ intent: 'set', document, path: ['result'], value } as const];
  const title = `Record \`${value}\`, which follows from the rest`;
  return [{ title, kind: 'quick-fix', findings, changes: [{ file: file.path, contentId, intents }] }];
}
