import { forcedValues } from '../server/src/core/reasoning/forced-values.ts';
import { jointResults } from '../server/src/core/reasoning/joint-contradictions.ts';
import { componentsIn } from '../server/src/core/reasoning/joint-groups.ts';
import { chainBase, chainOutcome } from './harness/chain-base.ts';
import { snapshotOf } from './harness/snapshot-of.ts';

const drives = Number(process.argv[2]),
  works = Number(process.argv[3]),
  fails = Number(process.argv[4]),
  mode = process.argv[5];
let seed = 7;
const rnd = (n: number) => {
  seed = (seed * 1103515245 + 12345) & 0x7fffffff;
  return seed % n;
};
const texts: Record<string, string> = {
  ...chainBase,
  'drives/tern.yaml': Array.from(
    { length: drives },
    (_, i) =>
      `kind: drive\nid: d${i}\nfamily: tern-2\n${mode === 'known' && i % 3 === 0 ? `preamp: Q${i % 2}\n` : ''}board: {id: kestrel, rev: A1}\n`,
  ).join('---\n'),
};
const docs: string[] = [];
for (let i = 0; i < works + fails; i++) {
  const isWork = i < works;
  let a = rnd(drives),
    b = rnd(drives);
  if (a === b) b = (a + 1) % drives;
  if (mode === 'halves') {
    b = isWork ? (a % 2 === b % 2 ? b : (b + 1) % drives) : a % 2 !== b % 2 || i % 40 === 0 ? b : (b + 1) % drives;
    if (a === b) b = (a + 2) % drives;
  }
  docs.push(chainOutcome(`o-${i}`, { patient: `d${a}`, donor: `d${b}`, works: isWork }));
}
texts['outcomes/all.yaml'] = docs.join('---\n');
const snapshot = snapshotOf(texts);
let t = performance.now();
const comps = componentsIn(snapshot);
console.log(
  'comps',
  comps.length,
  Math.max(...comps.map((c) => c.pairs.length)),
  'groups',
  comps
    .flatMap((c) => c.groups)
    .map((g) => g.pairs.length)
    .slice(0, 5),
  (performance.now() - t).toFixed(0),
);
t = performance.now();
const r = [...jointResults(snapshot)].filter((x) => x);
console.log(
  'joint',
  (performance.now() - t).toFixed(0),
  r.map((x) => [
    x!.sets.length,
    x!.sets.map((s) => s.outcomes.length).join(),
    x!.removal?.outcomes.length,
    x!.removal?.isExact,
    x!.undecided,
  ]),
);
t = performance.now();
if (process.argv[6])
  console.log('forced', [...forcedValues(snapshot)].filter((x) => x).length, (performance.now() - t).toFixed(0));
