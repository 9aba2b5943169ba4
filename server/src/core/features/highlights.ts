/**
 * What an editor marks of a file while the cursor stands on the name of a record.
 * Laws (test/property/mentions.property.test.ts):
 * - the highlights of a name hold the name itself
 */
import { type Mention, mentionAt, mentionsOf } from './mentions.ts';
import { isSameName } from './names-in.ts';
import type { OpenFile } from './open-file.ts';

/** The mentions in the file of what is named at the cursor, in the order of the text. */
export function highlightsAt({ tape }: OpenFile, offset: number): readonly Mention[] {
  const named = mentionAt(tape, offset);
  if (!named) return [];
  const same = mentionsOf(tape).filter((mention) => isSameName(mention, named));
  // One alias may repeat a map that names the same thing twice.
  const byStart = new Map(same.map((mention) => [mention.start, mention]));
  return [...byStart.values()].sort((a, b) => a.start - b.start);
}
