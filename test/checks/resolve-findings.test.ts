import { expect, it } from 'vitest';
import type { Finding } from '../../server/src/core/checks/finding.ts';
import { resolveFindings } from '../../server/src/core/checks/resolve-findings.ts';

it('findings that say the same of one place stand in one order, whatever order they came in', () => {
  const of = (help: string): Finding => ({
    ...{ check: 'duplicate-id', severity: 'error', message: 'Taken.', help, record: undefined, related: [], fixes: [] },
    place: { file: 'a.yaml', contentId: '1', target: { document: 0, path: ['id'], side: 'value' } },
  });
  const [first, second] = [of('Rename it.'), of('Remove it.')];
  const helpIn = (findings: readonly Finding[]) => resolveFindings(findings, new Map()).map(({ help }) => help);
  expect(helpIn([first, second])).toEqual(['Remove it.', 'Rename it.']);
  expect(helpIn([second, first])).toEqual(['Remove it.', 'Rename it.']);
});
