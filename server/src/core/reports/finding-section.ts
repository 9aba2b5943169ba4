import type { Finding } from '../checks/finding.ts';
import { severities } from '../terms/severities.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import type { Block } from './document.ts';

/** Findings under a heading, worst first, each with where it is and what to do; nothing where there are none. */
export function findingSection(title: string, findings: readonly Finding[]): Block[] {
  if (findings.length === 0) return [];
  const worstFirst = [...findings].sort(
    (a, b) => severities.indexOf(a.severity) - severities.indexOf(b.severity) || byCodeUnits(a.message, b.message),
  );
  return [
    { kind: 'heading', level: 2, text: title },
    { kind: 'findings', findings: worstFirst },
  ];
}
