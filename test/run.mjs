// Every test there is, runner by runner. The last line adds them up: `N passed, N failed, N skipped`.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** Runners that give one verdict each. */
const checks = [
  ['generated files are up to date', 'tsx', ['schemas/tools/gen.ts', '--check']],
  ['types', 'tsc', ['-p', '.']],
  ['types of the core, without Node', 'tsc', ['-p', 'server/src/core']],
  ['format and lint', 'biome', ['check', '--error-on-warnings', '.']],
  ['dead code', 'knip', []],
];

const total = { passed: 0, failed: 0, skipped: 0 };

function run(name, program, args) {
  console.log(`\n== ${name}`);
  return (
    spawnSync(join('node_modules', '.bin', program), args, { stdio: 'inherit', shell: process.platform === 'win32' })
      .status === 0
  );
}

for (const [name, program, args] of checks) {
  if (run(name, program, args)) total.passed++;
  else total.failed++;
}

const folder = mkdtempSync(join(tmpdir(), 'swaplore-test-'));
const report = join(folder, 'vitest.json');
const isGreen = run('vitest', 'vitest', [
  'run',
  '--reporter=default',
  '--reporter=json',
  `--outputFile.json=${report}`,
]);
try {
  const counts = JSON.parse(readFileSync(report, 'utf8'));
  total.passed += counts.numPassedTests;
  total.failed += counts.numFailedTests;
  total.skipped += counts.numPendingTests + counts.numTodoTests;
  const skipped = counts.testResults.flatMap(({ assertionResults }) =>
    assertionResults.filter(({ status }) => status === 'skipped' || status === 'pending'),
  );
  const groups = new Set(skipped.map(({ ancestorTitles, title }) => ancestorTitles[0] || title));
  for (const group of groups) console.log(`skipped: ${group}`);
  // A file that does not load has no tests to fail.
  if (!isGreen && counts.numFailedTests === 0) total.failed++;
} catch {
  total.failed++;
}

const vscodeCounts = join(folder, 'vscode.json');
run('VS Code', 'tsx', ['test/vscode/run.ts', vscodeCounts]);
try {
  const { passed, failed, skipped } = JSON.parse(readFileSync(vscodeCounts, 'utf8'));
  total.passed += passed;
  total.failed += failed;
  total.skipped += skipped;
} catch {
  total.failed++;
}
rmSync(folder, { recursive: true });

console.log(`\n${total.passed} passed, ${total.failed} failed, ${total.skipped} skipped`);
process.exitCode = total.failed > 0 ? 1 : 0;
