import { setTimeout } from 'node:timers/promises';
import { expect, it, vi } from 'vitest';
import { jointContradiction } from '../../server/src/core/checks/joint-contradiction.ts';
import type { ConfigFile, Snapshot } from '../../server/src/core/index/snapshot.ts';
import type { BaseReader } from '../../server/src/host/base-store.ts';
import { loadBase } from '../../server/src/host/load-base.ts';
import { MemoryHost } from '../../server/src/host/memory.ts';
import { BaseChecker } from '../../server/src/lsp/base-checker.ts';
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

it('shows what recorded values say first, beside what joint reasoning found before, and then what it finds now', async () => {
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
  const checker = new BaseChecker(base, shown, {
    world: {
      storeFor: () => undefined,
      revisionsFor: () => undefined,
      today: () => 0,
      // Every step is a slice of its own.
      nowMs: () => (clockMs += 10),
      pause: () => setTimeout(0),
    },
    onFile: () => undefined,
    onChecked: () => {
      isChecked = true;
    },
    onError: (error) => failed.push(error),
  });
  for (const isFirst of [true, false]) {
    isChecked = false;
    if (isFirst) await base.load(() => undefined);
    else checker.restart();
    await vi.waitUntil(() => isChecked, { timeout: 10_000 });
  }
  expect(failed).toEqual([]);
  const hasJoint = update.mock.calls.map(([runs]) =>
    runs.some((run) => [...run.values()].flat().some(({ check }) => check === 'joint-contradiction')),
  );
  // Before them comes what can be said of open files, of which there are none.
  expect(hasJoint).toEqual([false, false, true, true, true]);
});

it('keeps the marks of joint reasoning while somebody types in a file that has some', async () => {
  const [example] = jointContradiction.examples();
  const client = await connectInMemory({ 'swaplore.yaml': 'swaplore: 1\n', ...example?.files });
  const isJoint = ({ code }: { readonly code?: unknown }): boolean => code === 'joint-contradiction';
  await vi.waitUntil(() => client.published.some(({ diagnostics }) => diagnostics.some(isJoint)), { timeout: 10_000 });
  const marked = client.published.find(({ diagnostics }) => diagnostics.some(isJoint))!;
  const path = Object.keys(example?.files ?? {}).find((one) => marked.uri.endsWith(one))!;
  const text = example?.files[path] ?? '';
  await client.open(path);
  const before = client.published.length;
  await client.change(path, [{ text: `# Seen again.\n${text}site: 3\n` }]);
  await vi.waitUntil(() => client.published.slice(before).some(({ uri }) => uri === marked.uri), { timeout: 10_000 });
  await client.change(path, [{ text: `# Seen again.\n\n${text}` }]);
  await client.untilFound(path, ['joint-contradiction']);
  for (const { uri, diagnostics } of client.published.slice(before)) {
    if (uri === marked.uri) expect(diagnostics.some(isJoint)).toBe(true);
  }
});
