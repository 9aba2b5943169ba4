import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { bundleTests } from './bundle-tests.ts';
import { TestScript } from './test-script.ts';

/** What takes longer is not called for each mutant, in milliseconds. */
const longestMs = 1000;

/**
 * The tests worth calling for each mutant, with the milliseconds each takes, the quickest first: those that are quick and pass twice in
 * one process, in any order. Another would seem to notice every mutant. With few samples, a law that counts how often something was met may fail.
 *
 * @param folder a folder to keep the script in
 */
export async function worthwhileTests(
  root: string,
  files: readonly string[],
  folder: string,
): Promise<readonly (readonly [id: string, ms: number])[]> {
  // The script asks for packages from where it is.
  const path = join(folder, 'tests-as-they-are.cjs');
  writeFileSync(path, await bundleTests(root, files));
  const script = new TestScript(path);
  const quick = (await script.run())
    .filter(({ status, timeSpentMs }) => status === 0 && timeSpentMs <= longestMs)
    .sort((one, other) => one.timeSpentMs - other.timeSpentMs);
  const again = await script.run({ ids: quick.map(({ id }) => id) });
  return again.filter(({ status }) => status === 0).map(({ id, timeSpentMs }) => [id, timeSpentMs] as const);
}
