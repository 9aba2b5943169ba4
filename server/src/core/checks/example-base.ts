import type { CaptureValues } from '../captures/decoded.ts';
import { captureText } from '../captures/write-capture.ts';

/** A maker and its family, for the examples of checks: too little is said of them for any check to find fault. */
export const exampleBase = {
  'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\n',
  'families/tern.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\nadaptives: {stored_in: platters}\n',
} as const;

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
