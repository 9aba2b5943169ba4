import type { Snapshot } from '../index/snapshot.ts';
import type { BoardRecord } from '../model/record.ts';
import type { Kind } from '../terms/kinds.ts';
import { recordBrief } from './record-brief.ts';

/** A value to choose from with what tells it from others, and whether any more fit. */
export interface Choices {
  readonly choices: readonly { readonly text: string; readonly detail: string }[];
  readonly isCut: boolean;
}

/** Most ids shown at once; nobody reads further, and typing on narrows them down. */
const mostShown = 100;

/** The recorded ids of a kind that hold what is typed: those that begin with it first, each group by id. */
export function idChoices(snapshot: Snapshot, kind: Kind, typed: string): Choices {
  const named: readonly { readonly id: string }[] = snapshot.records(kind);
  const { found, isCut } = narrow(named, typed, ({ id }) => id);
  const records = found.flatMap(({ id }) => snapshot.findAny(kind, id) ?? []);
  return { choices: records.map((record) => ({ text: record.id, detail: recordBrief(record) })), isCut };
}

/** The recorded revisions as conditions name them, BOARD/REV. */
export function revisionChoices(snapshot: Snapshot, typed: string): Choices {
  const { found, isCut } = narrow(revisionsOf(snapshot), typed, ({ text }) => text.toLowerCase());
  return { choices: found.map(({ text, board }) => ({ text, detail: recordBrief(board) })), isCut };
}

function* revisionsOf(snapshot: Snapshot): Generator<{ readonly text: string; readonly board: BoardRecord }> {
  for (const board of snapshot.records('board')) {
    for (const { rev } of board.data.revisions ?? [])
      if (rev !== undefined) yield { text: `${board.id}/${rev}`, board };
  }
}

/** Those whose text, in lower case, holds what is typed. */
function narrow<Candidate>(
  all: Iterable<Candidate>,
  typed: string,
  textOf: (candidate: Candidate) => string,
): { readonly found: readonly Candidate[]; readonly isCut: boolean } {
  const wanted = typed.toLowerCase();
  const first: Candidate[] = [];
  const later: Candidate[] = [];
  for (const candidate of all) {
    const at = textOf(candidate).indexOf(wanted);
    if (at === 0) first.push(candidate);
    else if (at > 0 && later.length <= mostShown) later.push(candidate);
    if (first.length > mostShown) break;
  }
  const found = [...first, ...later];
  return { found: found.slice(0, mostShown), isCut: found.length > mostShown };
}
