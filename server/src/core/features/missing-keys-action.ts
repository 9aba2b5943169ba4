import { findKeyRow, type KeyRow } from '../schema/key-rows.ts';
import { childrenOf, type Tape } from '../syntax/tape.ts';
import { inARow } from '../text/in-a-row.ts';
import type { ActionContext, ActionDraft } from './action.ts';
import { Blanks } from './blanks.ts';
import { nodeOf } from './cursor.ts';
import { nextId } from './next-id.ts';
import { requiredValue } from './required-values.ts';

/**
 * Adds, at once, all required keys that a record lacks, where one of them is complained of. Nobody knows their values, so that each is
 * asked for; without tab stops nothing is offered, for a key with nothing behind it says no more than the finding, and completion
 * types it just as quickly.
 */
export function missingKeysActions(context: ActionContext): readonly ActionDraft[] {
  const { file, contentId, findingsHere } = context;
  const faults = (file.snapshot.files.get(file.path)?.facts.faults ?? []).flatMap((fault) =>
    fault.kind === 'schema' && fault.problem.what === 'missing' ? fault : [],
  );
  return file.tape.documents.flatMap(({ root }, document): readonly ActionDraft[] => {
    const missing = faults.filter((fault) => fault.document === document);
    const node = missing.length === 0 ? undefined : nodeOf(file.path, file.tape, root);
    const names = missing.map(({ path }) => JSON.stringify(path));
    const findings = findingsHere.filter(
      ({ check, place: { target } }) =>
        check === 'schema' &&
        'document' in target &&
        target.document === document &&
        names.includes(JSON.stringify(target.path)),
    );
    if (node === undefined || node === 'config' || findings.length === 0) return [];
    const blanks = new Blanks();
    const id = nextId(file, node, { document, siblings: scalarsIn(file.tape, root) });
    const fill = (row: KeyRow): string =>
      row.name === 'id' ? blanks.add({ suggestion: id ?? '' }) : blanks.addValue(row);
    const intents = missing.flatMap(({ path }) => {
      const row = findKeyRow(node, path);
      return row ? ({ intent: 'set', document, path, value: requiredValue(row, fill) } as const) : [];
    });
    const keys = inARow(missing.map(({ path }) => String(path.at(-1))));
    const title = `Add what is required: ${keys}`;
    const changes = [{ file: file.path, contentId, intents }];
    return [{ title, kind: 'quick-fix', findings, blanks: blanks.list, changes }];
  });
}

function scalarsIn(tape: Tape, root: number): ReadonlyMap<string, string> {
  const entries = Array.from(childrenOf(tape, root), (child) => tape.entries[child]);
  return new Map(entries.flatMap((entry) => (entry?.key === undefined ? [] : [[entry.key, entry.text] as const])));
}
