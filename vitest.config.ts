import { configDefaults, defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** Property tests take longest: begun first, they leave no core idle at the end. */
class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const sorted = await super.sort(files);
    const isLong = ({ moduleId }: TestSpecification): boolean => moduleId.includes('/test/property/');
    return [...sorted.filter(isLong), ...sorted.filter((file) => !isLong(file))];
  }
}

// Property and command-line tests start processes and run thousands of cases; nothing here measures time.
const testTimeout = 400_000;

/** Tests that replace modules or ask what a process holds. */
const apart = 'test/{bench,cli,host}/**/*.test.ts';
const served = 'test/{browser,lsp}/**/*.test.ts';

// One process for many files spares each a second of loading the same modules. What they test keeps nothing between two calls.
const together = { pool: 'forks', testTimeout, isolate: false } as const;

export default defineConfig({
  test: {
    globalSetup: ['test/harness/build-once.ts'],
    // The default leaves one core idle, which of two is half.
    maxWorkers: '100%',
    sequence: { sequencer: LongestFirst },
    projects: [
      {
        test: {
          ...together,
          name: 'core',
          include: ['test/**/*.test.ts'],
          exclude: [...configDefaults.exclude, apart, served],
        },
      },
      { test: { ...together, name: 'lsp', include: [served], globalSetup: ['test/lsp/harness/browser-once.ts'] } },
      { test: { name: 'apart', include: [apart], pool: 'forks', testTimeout } },
    ],
  },
});
