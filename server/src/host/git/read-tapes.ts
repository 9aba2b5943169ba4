import type { Place } from '../../core/checks/finding.ts';
import { readText } from '../../core/syntax/read-text.ts';
import type { Tape } from '../../core/syntax/tape.ts';
import { decodeText } from '../../core/text/decode.ts';
import { readContents, type Sources } from './read-contents.ts';

/** The tapes of the files that places of one snapshot are in, by path. `held` are contents that no source has. What cannot be had is left out. */
export async function readTapes(
  places: readonly Place[],
  sources: Sources,
  held: ReadonlyMap<string, Uint8Array>,
): Promise<ReadonlyMap<string, Tape>> {
  const wanted = new Map(places.map(({ file, contentId }) => [file, contentId]));
  const elsewhere = Array.from(wanted, ([path, contentId]) => ({ path, contentId })).filter(
    ({ contentId }) => !held.has(contentId),
  );
  const contents = new Map([...held, ...(await readContents(elsewhere, sources))]);
  const tapes = new Map<string, Tape>();
  for (const [path, contentId] of wanted) {
    const bytes = contents.get(contentId);
    const decoded = bytes && decodeText(bytes);
    if (decoded && 'text' in decoded) tapes.set(path, readText(decoded.text).tape);
  }
  return tapes;
}
