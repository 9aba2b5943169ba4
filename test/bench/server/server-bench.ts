import type { CachedBase } from '../base/base-cache.ts';
import { Random } from '../base/random.ts';
import { toServerTable } from './rows.ts';
import { type ServedBase, servedBase } from './served-base.ts';
import { forgetBases, ownServer, peerServer, writePeerSchemas } from './servers.ts';
import { Figures, measureOwn, measurePeer, type ServedFigures, warmUp } from './sessions.ts';

/** Measures the language server on a base, a peer taking turns with it. Gives the table. */
export async function serverTable(base: CachedBase, seed: string, runs: number): Promise<string> {
  writePeerSchemas();
  const peer = { figures: new Figures(), debounceMs: peerServer.debounceMs };
  const own = await servedFigures(base, seed, runs, async (served, run) => {
    process.stderr.write(`${served.folder}, run ${run} of ${runs}: ${peerServer.name}\n`);
    await measurePeer(peerServer, served, new Random(`${seed} ${run}`), peer.figures);
  });
  return toServerTable(own, peer);
}

/** Measures the language server on a base, so many times. What is done after each run may take turns with it. */
export async function servedFigures(
  base: CachedBase,
  seed: string,
  runs: number,
  afterEach?: (served: ServedBase, run: number) => Promise<void>,
): Promise<ServedFigures> {
  const served = servedBase(base);
  const figures = new Figures();
  await warmUp(ownServer, served, new Random(seed));
  for (let run = 1; run <= runs; run++) {
    process.stderr.write(`${served.folder}, run ${run} of ${runs}: ${ownServer.name}\n`);
    forgetBases();
    await measureOwn(ownServer, served, new Random(`${seed} ${run}`), figures);
    await afterEach?.(served, run);
  }
  return { figures, debounceMs: ownServer.debounceMs };
}
