import { defineConfig } from 'vitest/config';
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

/** Tests of what starts processes, replaces modules or touches what a process has one of. */
const isolated = ['test/{bench,cli,host,lsp}/**/*.test.ts'];

export default defineConfig({
  test: {
    globalSetup: ['test/harness/build-once.ts'],
    // The default leaves one core idle, which of two is half.
    maxWorkers: '100%',
    sequence: { sequencer: LongestFirst },
    projects: [
      { test: { name: 'hosts', include: isolated, pool: 'forks', testTimeout } },
      // The core is pure: its tests share a process, which spares each file a second of loading the same modules.
      {
        test: {
          name: 'core',
          include: ['test/**/*.test.ts'],
          exclude: isolated,
          pool: 'forks',
          testTimeout,
          isolate: false,
        },
      },
    ],
  },
});
