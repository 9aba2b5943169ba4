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

const knowledge = fileURLToPath(new URL('../../knowledge/', import.meta.url));

/**
 * Every text the project has: the files of the demo base and those in the examples of the checks. What a test asks of them holds for
 * any text, so a change of data cannot break it. Examples that are filled up to some size are left out.
 */
export function readFixtures(): Fixture[] {
  const paths = readdirSync(knowledge, { recursive: true, encoding: 'utf8' }).filter((path) => path.endsWith('.yaml'));
  const recorded = paths
    .sort()
    .map((path) => ({ name: path, path, text: readFileSync(`${knowledge}${path}`, 'utf8') }));
  const shown = checks.flatMap(({ check, examples }) =>
    examples().flatMap(({ title, files }) =>
      Object.entries(files).flatMap(([path, file]) =>
        typeof file === 'string' && file.length < 10_000
          ? [{ name: `${check}: ${title}: ${path}`, path, text: splitExpectations(path, file).text }]
          : [],
      ),
    ),
  );
  return [...recorded, ...new Map(shown.map((fixture) => [`${fixture.path} ${fixture.text}`, fixture])).values()];
}
