import { setTimeout } from 'node:timers/promises';
import { expect, it, vi } from 'vitest';
import { jointContradiction } from '../../server/src/core/checks/joint-contradiction.ts';
import type { ConfigFile, Snapshot } from '../../server/src/core/index/snapshot.ts';
import type { BaseReader } from '../../server/src/host/base-store.ts';
import { loadBase } from '../../server/src/host/load-base.ts';
import { MemoryHost } from '../../server/src/host/memory.ts';
import { BaseChecker, typingMs } from '../../server/src/lsp/base-checker.ts';
import { BaseSession } from '../../server/src/lsp/base-session.ts';
import { ShownFindings } from '../../server/src/lsp/shown-findings.ts';
import { drained } from '../harness/drained.ts';
import { connectInMemory } from './harness/connections.ts';

/** A base in memory as a server reads it. */
class MemoryReader extends MemoryHost implements BaseReader {
  load(configFile: ConfigFile): Promise<Snapshot> {
    return loadBase(this, configFile);
  }
}

const family = 'kind: family\nid: tern-2\nname: Tern 2\nmaker: harbour\n';

it('says nothing of what is missing before all files are read, but at once what is wrong in an open one', async () => {
  let tell = () => {};
  const listedFrom = new Promise<void>((resolve) => {
    tell = resolve;
  });
  // The client has no folder, so that the base is found by the document that is open in it.
  const client = await connectInMemory({ 'families.yaml': `${family}nmae: 1\n` }, { listedFrom, capabilities: {} });
  await client.open('families.yaml');
  await client.untilFound('families.yaml', ['unknown-key']);
  await client.change('families.yaml', [{ text: `${family}nmae: 1\nsiet: 2\n` }]);
  await client.untilFound('families.yaml', ['unknown-key', 'unknown-key']);
  expect(JSON.stringify(client.published)).not.toContain('dangling-reference');
  tell();
  await client.untilFound('families.yaml', ['dangling-reference', 'unknown-key', 'unknown-key']);
});

it.each([
  ['shows what recorded values say first where joint reasoning takes its time', [0], [false, true]],
  ['shows all at once where joint reasoning is soon done', [4000], [true]],
  [
    'waits no more where joint reasoning took its time before, until it does not',
    [0, 4000, 4000],
    [false, true, false, true, true],
  ],
])('%s', async (_, graces, rounds) => {
  const [example] = jointContradiction.examples();
  const reader = new MemoryReader({ 'swaplore.yaml': 'swaplore: 1\n', ...example?.files });
  const base = await BaseSession.of({
    root: 'bench:/shelf',
    reader,
    encoding: 'utf-16',
    inSlices: (work) => Promise.resolve(drained(work)),
    onChange: () => checker.restart(),
    onOutdated: () => undefined,
  });
  const shown = new ShownFindings(base, { hasRelated: true, hasCheckPages: false });
  const update = vi.spyOn(shown, 'update');
  let clockMs = 0;
  const failed: unknown[] = [];
  let isChecked = false;
  let graceMs = 0;
  const checker = new BaseChecker(base, shown, {
    world: {
      storeFor: () => undefined,
      revisionsFor: () => undefined,
      today: () => 0,
      // Every step is a slice of its own, and the pause that joint reasoning has is as long as the case has it.
      nowMs: () => (clockMs += 10),
      pause: (ms) => setTimeout(ms === 0 || ms === typingMs ? 0 : graceMs),
    },
    onFile: () => undefined,
    onChecked: () => {
      isChecked = true;
    },
    onError: (error) => failed.push(error),
  });
  for (const [run, ms] of graces.entries()) {
    graceMs = ms;
    isChecked = false;
    if (run === 0) await base.load(() => undefined);
    else checker.restart();
    await vi.waitUntil(() => isChecked, { timeout: 10_000 });
  }
  expect(failed).toEqual([]);
  const hasJoint = update.mock.calls.map(([runs]) =>
    runs.some((run) => [...run.values()].flat().some(({ check }) => check === 'joint-contradiction')),
  );
  // Before them comes what can be said of open files, of which there are none.
  expect(hasJoint).toEqual([false, ...rounds]);
});
