import type { CaptureValues } from '../captures/decoded.ts';
import { captureText } from '../captures/write-capture.ts';

/** A maker and a family of which only these facts are recorded, as lines of YAML, for the examples of checks. */
export function exampleFamily(facts = '') {
  return {
    'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\n',
    'families/tern.yaml': `kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\n${facts}`,
  } as const;
}

/** The two with as much as keeps every check from finding fault. */
export const exampleBase = exampleFamily('adaptives: {stored_in: platters}\n');

/** The same with two drives. */
export const examplePair = {
  ...exampleBase,
  'drives/tern.yaml': 'kind: drive\nid: d-0117\nfamily: tern-2\n---\nkind: drive\nid: d-0118\nfamily: tern-2\n',
} as const;

/** An outcome of the two that works; `extra` stands between its ROM and its end. */
export function exampleOutcome(extra: string): string {
  return `kind: outcome
id: one
date: 2026-03-14
patient: d-0117
donor: d-0118
rom: left
${extra}reached: reads
result: works
`;
}

/** A capture file with these values, as they would be written. */
export function exampleCapture(values: CaptureValues): string {
  const source = { name: 'vpd_pg89', format: 'vpd_89', sha256: '3b1f0c6a'.repeat(8), values: {} } as const;
  return captureText({ capture: 1, taken: '2026-03-14', values, sources: [source] });
}
