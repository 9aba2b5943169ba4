// Every test there is, runner by runner. The last line adds them up: `N passed, N failed, N skipped`.
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** Runners that give one verdict each. None writes what another reads, so they run side by side. */
const checks = [
  ['generated files are up to date', 'tsx', ['schemas/tools/gen.ts', '--check']],
  ['types', 'tsc', ['-p', '.']],
  ['types of the core, without Node', 'tsc', ['-p', 'server/src/core']],
  ['format and lint', 'biome', ['check', '--error-on-warnings', '.']],
  ['dead code', 'knip', []],
];

const total = { passed: 0, failed: 0, skipped: 0 };

function start(program, args, stdio) {
  return spawn(join('node_modules', '.bin', program), args, { stdio, shell: process.platform === 'win32' });
}

/** Whether a program ends well; one that cannot be started does not. */
async function endsWell(child) {
  const [code] = await once(child, 'close').catch(() => [1]);
  return code === 0;
}

/** Runs a check. What it printed comes in one piece, so that those beside it do not mix with it. */
async function runCheck([name, program, args]) {
  const child = start(program, args, ['ignore', 'pipe', 'pipe']);
  const printed = [];
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (data) => printed.push(data));
  const isGood = await endsWell(child);
  console.log(`\n== ${name}\n${Buffer.concat(printed)}`.trimEnd());
  return isGood;
}

for (const isGood of await Promise.all(checks.map(runCheck))) {
  if (isGood) total.passed++;
  else total.failed++;
}

const folder = mkdtempSync(join(tmpdir(), 'swaplore-test-'));
const report = join(folder, 'vitest.json');
console.log('\n== vitest');
const isGreen = await endsWell(
  start('vitest', ['run', '--reporter=default', '--reporter=json', `--outputFile.json=${report}`], 'inherit'),
);
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
console.log('\n== VS Code');
await endsWell(start('tsx', ['test/vscode/run.ts', vscodeCounts], 'inherit'));
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
