import type { CachedBase } from '../base/base-cache.ts';
import { Random } from '../base/random.ts';
import { toServerTable } from './rows.ts';
import { servedBase } from './served-base.ts';
import { forgetBases, ownServer, peerServer, writePeerSchemas } from './servers.ts';
import { Figures, measureOwn, measurePeer, warmUp } from './sessions.ts';

/** Measures the language server on a base, a peer taking turns with it. Gives the table. */
export async function serverTable(base: CachedBase, seed: string, runs: number): Promise<string> {
  const served = servedBase(base);
  writePeerSchemas();
  const own = { figures: new Figures(), debounceMs: ownServer.debounceMs };
  const peer = { figures: new Figures(), debounceMs: peerServer.debounceMs };
  await warmUp(ownServer, served, new Random(seed));
  for (let run = 1; run <= runs; run++) {
    process.stderr.write(`${served.folder}, run ${run} of ${runs}: ${ownServer.name}\n`);
    forgetBases();
    await measureOwn(ownServer, served, new Random(`${seed} ${run}`), own.figures);
    process.stderr.write(`${served.folder}, run ${run} of ${runs}: ${peerServer.name}\n`);
    await measurePeer(peerServer, served, new Random(`${seed} ${run}`), peer.figures);
  }
  return toServerTable(own, peer);
}
