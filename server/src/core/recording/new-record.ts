import { ownFileFor } from '../features/home-for.ts';
import { proposeId } from '../features/next-id.ts';
import type { Answers } from './answers.ts';
import { draftFile } from './draft-file.ts';
import type { Recording } from './recording.ts';

/** A record that is to be written into a file of its own. */
export interface NewRecord {
  readonly id: string;
  /** Path relative to the base, with `/`. Nothing stands there in the snapshot; the host has to see to it that nothing is overwritten. */
  readonly path: string;
  readonly text: string;
}

/**
 * The record that answers come to, with an id no record of its kind has and a path no file of the base has. `isTaken` tells of ids
 * whose file turned out to be there already, though the base did not show it.
 */
export function newRecord(recording: Recording, answers: Answers, isTaken: (id: string) => boolean): NewRecord {
  const { kind, snapshot } = recording;
  const pathFor = (id: string): string => ownFileFor(snapshot, kind, id);
  const isUsed = (id: string): boolean =>
    isTaken(id) ||
    snapshot.findAny(kind, id) !== undefined ||
    snapshot.hasBareId(kind, id) ||
    snapshot.files.get(pathFor(id)) !== undefined;
  const siblings = new Map(
    Object.entries(answers).flatMap(([name, answer]) => (typeof answer === 'string' ? [[name, answer] as const] : [])),
  );
  const id = proposeId({ snapshot, kind, siblings, isTaken: isUsed }) ?? freeId(plainId(recording, siblings), isUsed);
  return { id, path: pathFor(id), text: draftFile(kind, { id, ...answers }).text };
}

/** An id made of what is known, where the base's own show no way. */
function plainId({ kind }: Recording, siblings: ReadonlyMap<string, string>): string {
  const parts = kind === 'outcome' ? ['date', 'patient', 'donor'] : ['family', 'model'];
  const words = parts.flatMap(
    (part) =>
      siblings
        .get(part)
        ?.toLowerCase()
        .match(/[a-z0-9]+/g) ?? [],
  );
  return words.length > 0 ? words.join('-') : kind;
}

function freeId(id: string, isUsed: (id: string) => boolean): string {
  let free = id;
  for (let again = 2; isUsed(free); again++) free = `${id}-${again}`;
  return free;
}
