import type { Check } from '../../server/src/core/checks/define-check.ts';
import { lintFiles } from './lint-files.ts';

/** Lines to add to the records of a small base: a maker, its family, a patient, a donor and one outcome that reads. */
export interface SwapBase {
  readonly config?: string;
  readonly maker?: string;
  readonly family?: string;
  readonly patient?: string;
  readonly donor?: string;
  readonly outcome?: string;
  readonly reached?: string;
  readonly result?: string;
  readonly date?: string;
  /** Further files by path. */
  readonly files?: Readonly<Record<string, string>>;
}

/** The files of such a base. */
export function swapBase(parts: SwapBase): Record<string, string> {
  const { reached = 'reads', result = 'works', date = '2026-03-14' } = parts;
  const more = (text: string | undefined): string => (text === undefined ? '' : `${text}\n`);
  return {
    'swaplore.yaml': `swaplore: 1\n${more(parts.config)}`,
    'makers/wren.yaml': `kind: maker\nid: wren\nname: Wren\n${more(parts.maker)}`,
    'families/tern.yaml': `kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\n${more(parts.family)}`,
    'drives/a.yaml': `kind: drive\nid: d-0117\nfamily: tern-2\n${more(parts.patient)}`,
    'drives/b.yaml': `kind: drive\nid: d-0118\nfamily: tern-2\n${more(parts.donor)}`,
    'outcomes/one.yaml': `kind: outcome\nid: one\ndate: ${date}\npatient: d-0117\ndonor: d-0118\n${more(parts.outcome)}reached: ${reached}\nresult: ${result}\n`,
    ...parts.files,
  };
}

/** The messages of one check over such a base. */
export async function messagesOf(check: Check, parts: SwapBase): Promise<string[]> {
  return (await lintFiles(swapBase(parts), { checks: [check] })).map((finding) => finding.message);
}

/** The ids of all checks that fire over such a base, warnings and errors only, sorted. */
export async function firing(parts: SwapBase): Promise<string[]> {
  const findings = await lintFiles(swapBase(parts));
  return findings.flatMap(({ check, severity }) => (severity === 'info' ? [] : [check])).sort();
}
