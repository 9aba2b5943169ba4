import { expect } from 'vitest';
import type { Example } from '../../server/src/core/checks/define-check.ts';
import type { ResolvedFinding } from '../../server/src/core/checks/resolve-findings.ts';
import type { MemoryFiles } from '../../server/src/host/memory.ts';
import { splitExpectations } from './expectations.ts';
import { type LintOptions, lintFiles } from './lint-files.ts';

/**
 * Lints files whose comments say what is expected and compares: file, line, characters, check and message of every finding. A single
 * text is the file `a.yaml`. Gives the findings for further questions. `options.checks` limits the run to some checks.
 */
export async function check(
  files: MemoryFiles | string,
  wholeFile: readonly string[] = [],
  options: LintOptions = {},
): Promise<ResolvedFinding[]> {
  const marked = typeof files === 'string' ? { 'a.yaml': files } : files;
  const texts: Record<string, MemoryFiles[string]> = {};
  const expected: string[] = [...wholeFile];
  for (const [path, file] of Object.entries(marked)) {
    if (typeof file !== 'string') texts[path] = file;
    else {
      const split = splitExpectations(path, file);
      texts[path] = split.text;
      for (const one of split.expected)
        expected.push(`${path}:${one.line}:${one.from}-${one.to}: ${one.check}: ${one.message}`);
    }
  }
  const findings = await lintFiles(texts, options);
  expect(findings.map(describeFinding).sort()).toEqual(expected.sort());
  return findings;
}

/** The same for an example of a check's own documentation. */
export function checkExample(example: Example): Promise<ResolvedFinding[]> {
  return check(example.files, example.wholeFile);
}

function describeFinding({ file, range, check: id, message }: ResolvedFinding): string {
  const { start, end } = range;
  const isWholeFile = start.line === 0 && start.character === 0 && end.line === 0 && end.character === 0;
  if (isWholeFile) return `${file}: ${id}: ${message}`;
  const to = start.line === end.line ? String(end.character + 1) : `${end.line + 1}:${end.character + 1}`;
  return `${file}:${start.line + 1}:${start.character + 1}-${to}: ${id}: ${message}`;
}
