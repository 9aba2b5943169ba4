/** Cautions that are the same wherever they apply, each a sentence. Source: common practice, no source. */

/** For whoever has a drive under power. */
export const keepUnpowered = 'Do not keep a clicking or beeping drive powered, and a grinding one not at all.';

/** For whoever connects a drive to a host. */
export const keepUnmounted =
  'Switch automount off or use a write blocker, and refuse every offer to initialise, format or repair.';

/** For whoever is about to try anything; `drive` follows "the data on". */
export function stopForData(drive: string): string {
  return `If the data on ${drive} matters to anyone, stop and hand the drive to a professional recovery lab: every attempt can lower the chance.`;
}
