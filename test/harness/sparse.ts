import fc from 'fast-check';

type Sparse<Map> = { [Key in keyof Map]?: Exclude<Map[Key], undefined> };

/** A map in which each key stands in one of two samples. */
export function sparse<Map extends object>(
  keys: {
    readonly [Key in keyof Map]: fc.Arbitrary<Map[Key]>;
  },
): fc.Arbitrary<Sparse<Map>> {
  const entries = Object.entries<fc.Arbitrary<unknown>>(keys).map(([key, value]) =>
    fc.option(
      value.map((inside) => [key, inside] as const),
      { nil: undefined, freq: 2 },
    ),
  );
  return fc
    .tuple(...entries)
    .map((found) => Object.fromEntries(found.filter((entry) => entry !== undefined)) as Sparse<Map>);
}
