import { afterEach, expect, it, vi } from 'vitest';
import type { Check } from '../../server/src/core/checks/define-check.ts';
import { checks } from '../../server/src/core/checks/registry.ts';
import { runChecks } from '../../server/src/core/checks/run-checks.ts';
import { type Derivation, derivingAll } from '../../server/src/core/index/derivation.ts';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { drained } from '../harness/drained.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';
import { ternBench } from '../harness/tern-bench.ts';

function restsOn(check: Check): readonly Derivation<unknown>[] {
  return 'restsOn' in check ? (check.restsOn ?? []) : [];
}

/** All that checks rest on, directly or not. */
function everything(): ReadonlySet<Derivation<unknown>> {
  const all = new Set(checks.flatMap(restsOn));
  for (const one of all) for (const below of one.restsOn ?? []) all.add(below);
  return all;
}

/** The names of what is computed while something is done. */
function computedBy(work: () => void): readonly string[] {
  const names: string[] = [];
  const spies = Array.from(everything(), (one) => {
    const { compute } = one;
    return vi.spyOn(one, 'compute').mockImplementation((snapshot) => {
      names.push(one.name);
      return compute.call(one, snapshot);
    });
  });
  work();
  for (const spy of spies) spy.mockRestore();
  return names;
}

afterEach(() => vi.restoreAllMocks());

function fresh(): Snapshot {
  const rule = (id: string, claim: string) => `kind: rule\nid: ${id}\nclaim: ${claim}\nwhen: {same: [site]}\n`;
  return snapshotOf({ ...ternBench, 'rules/site.yaml': `${rule('site-1', 'needs')}---\n${rule('site-2', 'enough')}` });
}

it.each(checks.filter(({ scope }) => scope === 'record' || scope === 'base'))(
  '$check asks for nothing but what is derived before it',
  (check) => {
    const snapshot = fresh();
    drained(derivingAll(restsOn(check), snapshot));
    expect(computedBy(() => drained(runChecks(snapshot, { today: 0, checks: [check] })))).toEqual([]);
  },
);

it.each([...everything()])('what is derived as "$name" asks for nothing but what is derived before', (derivation) => {
  const snapshot = fresh();
  drained(derivingAll(derivation.restsOn ?? [], snapshot));
  expect(computedBy(() => drained(derivation.compute(snapshot)))).toEqual([derivation.name]);
});

it('a first run of the checks derives all of it', () => {
  const names = computedBy(() => drained(runChecks(fresh(), { today: 0 })));
  expect([...names].sort()).toEqual(Array.from(everything(), ({ name }) => name).sort());
});
