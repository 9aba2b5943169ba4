/** How one outcome of many is written; the rest is the same for all. */
export interface PairOutcome {
  readonly patient: string;
  readonly donor: string;
  readonly works: boolean;
  /** Further lines, in place of the usual control that proves both halves good. */
  readonly more?: string;
}

const controlled = 'controls: {swapped_back: both_work}\n';

/** The files of a base with one family whose adaptives stay on the platters, these outcomes, and every drive they name. */
export function manyPairs(
  outcomes: readonly PairOutcome[],
  files: Readonly<Record<string, string>>,
): Record<string, string> {
  const drives = [...new Set(outcomes.flatMap(({ patient, donor }) => [patient, donor]))];
  return {
    'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\n',
    'families/tern.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\nadaptives: {stored_in: platters}\n',
    'drives.yaml': drives.map((id) => `kind: drive\nid: ${id}\nfamily: tern-2\n`).join('---\n'),
    'outcomes.yaml': outcomes
      .map(({ patient, donor, works, more = controlled }, n) => {
        const end = works ? 'reached: reads\nresult: works\n' : 'reached: spins\nresult: fails\n';
        return `kind: outcome\nid: o-${n + 1}\ndate: 2026-03-14\npatient: ${patient}\ndonor: ${donor}\nrom: left\n${more}${end}`;
      })
      .join('---\n'),
    ...files,
  };
}
