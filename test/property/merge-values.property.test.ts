import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mergeValues } from '../../server/src/core/captures/merge-values.ts';
import { captures, serials } from '../harness/arbitrary-capture.ts';
import { assertLaw } from '../harness/assert-law.ts';

const sources = captures(serials).map((capture) => capture.sources);

describe('values of several sources', () => {
  it('every value is that of some source, and none is lost', () => {
    assertLaw(
      200,
      fc.property(sources, (all) => {
        const { values } = mergeValues(all);
        const said = all.flatMap((source) => Object.entries(source.values).map(([name, value]) => `${name} ${value}`));
        expect(said).toEqual(expect.arrayContaining(Object.entries(values).map(([name, value]) => `${name} ${value}`)));
        expect(Object.keys(values).sort()).toEqual(
          [...new Set(all.flatMap((source) => Object.keys(source.values)))].sort(),
        );
      }),
    );
  });

  it('sources that agree bring no problem', () => {
    assertLaw(
      100,
      fc.property(sources, fc.subarray(['serial', 'model', 'lbaCount', 'logicalSectorBytes']), (all, names) => {
        const [first] = all;
        const parts = Object.entries(first?.values ?? {}).filter(([name]) => names.includes(name));
        const agreeing = all.map((source, at) =>
          at === 0 ? source : { ...source, values: Object.fromEntries(parts) },
        );
        expect(mergeValues(agreeing).problems).toEqual([]);
      }),
    );
  });

  it('the order of the sources decides nothing between two of different forms', () => {
    const apart = sources.filter((all) => new Set(all.map(({ format }) => format)).size === all.length);
    assertLaw(
      100,
      fc.property(apart, (all) => {
        expect(mergeValues(all.toReversed())).toEqual(mergeValues(all));
      }),
    );
  });
});
