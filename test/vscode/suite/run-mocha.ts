/// <reference types="mocha" />
import './mocha-surroundings.ts';
// The build for browsers runs in both extension hosts.
import 'mocha/mocha.js';
import { printCounts } from '../launch/suite-counts.ts';

/** Time one test has. */
const limitMs = 30_000;

/** Runs the tests that `declare` declares and prints how they went, line by line. Throws where one fails. */
export async function runMocha(declare: () => void): Promise<void> {
  mocha.setup({
    ui: 'bdd',
    timeout: limitMs,
    reporter: Lines as unknown as Mocha.ReporterConstructor,
  });
  declare();
  await new Promise<void>((resolve, reject) => {
    const runner = mocha.run((failures) => {
      const { passes = 0, pending = 0 } = runner.stats ?? {};
      console.log(printCounts({ passed: passes, failed: failures, skipped: pending }));
      // What is printed takes a moment to arrive, and nothing arrives later.
      setTimeout(() => (failures > 0 ? reject(new Error(`${failures} failed`)) : resolve()), 200);
    });
  });
}

class Lines {
  constructor(runner: Mocha.Runner) {
    runner.on('pass', (test) => console.log(`  ✓ ${test.title} (${test.duration} ms)`));
    runner.on('fail', (test, error) => console.log(`  ✗ ${test.title}: ${error.stack ?? error.message}`));
  }
}
