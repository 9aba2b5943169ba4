import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { checks } from '../../server/src/core/checks/registry.ts';
import { splitExpectations } from './expectations.ts';

/** A text to read, where it stands in its base, and what to call it when reading goes wrong. */
interface Fixture {
  readonly name: string;
  readonly path: string;
  readonly text: string;
}

const root = fileURLToPath(new URL('../../', import.meta.url));

/**
 * Every text of records the project has: the files of the demo base, of the fault base and of the tour, and those in the examples of the checks. What a test asks of them holds for
 * any text, so a change of data cannot break it. Examples that are filled up to some size are left out.
 */
export function readFixtures(): Fixture[] {
  const recorded = ['knowledge', 'test/fixtures/faults', 'test/fixtures/tour'].flatMap(filesIn);
  const shown = checks.flatMap(({ check, examples }) =>
    examples().flatMap(({ title, files }) =>
      Object.entries(files).flatMap(([path, file]) =>
        typeof file === 'string' && path.endsWith('.yaml') && file.length < 10_000
          ? [{ name: `${check}: ${title}: ${path}`, path, text: splitExpectations(path, file).text }]
          : [],
      ),
    ),
  );
  return [...recorded, ...new Map(shown.map((fixture) => [`${fixture.path} ${fixture.text}`, fixture])).values()];
}

function filesIn(folder: string): Fixture[] {
  const paths = readdirSync(`${root}${folder}`, { recursive: true, encoding: 'utf8' });
  return paths
    .filter((path) => path.endsWith('.yaml'))
    .sort()
    .map((path) => ({ name: `${folder}/${path}`, path, text: readFileSync(`${root}${folder}/${path}`, 'utf8') }));
}
