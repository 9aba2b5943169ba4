import fc from 'fast-check';
import { arbitraryBase } from './arbitrary-base.ts';
import { arbitraryDamage, damageText } from './arbitrary-damage.ts';
import { arbitraryLayout, writeFiles } from './write-files.ts';

/** The texts of a random base: some files damaged, and perhaps a file of another base added, whose ids are taken by then. */
export const arbitraryFaultyFiles: fc.Arbitrary<Readonly<Record<string, string>>> = fc
  .tuple(
    arbitraryBase.chain((base) => arbitraryLayout.map((layout) => writeFiles(base, layout))),
    fc.array(arbitraryDamage, { maxLength: 3 }),
    fc.option(arbitraryBase.chain((base) => arbitraryLayout.map((layout) => writeFiles(base, layout)))),
  )
  .map(([files, damages, other]) => {
    const { 'swaplore.yaml': config = '', ...texts } = files;
    const [again] = Object.entries(other ?? {}).filter(([path]) => path !== 'swaplore.yaml');
    const all = { ...texts, ...(again ? { 'again.yaml': again[1] } : {}) };
    const damaged = Object.entries(all).map(([path, text], position) => {
      const damage = damages[position];
      return [path, damage ? damageText(text, damage) : text] as const;
    });
    return { 'swaplore.yaml': config, ...Object.fromEntries(damaged) };
  });
