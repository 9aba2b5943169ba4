import { closeSync, openSync, writeSync } from 'node:fs';

/** Characters that are gathered before they are written. */
const mostWaiting = 1 << 18;

/** Writes lines into a new file, as they come. Throws what the system throws where it cannot write or something is there already. */
export function writeLines(path: string, lines: Iterable<string>): void {
  writeChunks(path, gathered(lines));
}

/** Writes bytes into a new file, and throws likewise. */
export function writeBytes(path: string, bytes: Uint8Array): void {
  writeChunks(path, [bytes]);
}

function* gathered(lines: Iterable<string>): Generator<Uint8Array> {
  let waiting = '';
  for (const line of lines) {
    waiting += line;
    if (waiting.length < mostWaiting) continue;
    yield Buffer.from(waiting);
    waiting = '';
  }
  yield Buffer.from(waiting);
}

function writeChunks(path: string, chunks: Iterable<Uint8Array>): void {
  const handle = openSync(path, 'wx');
  try {
    for (const chunk of chunks) {
      // The system may take less than it is given, as on a disk that is nearly full.
      for (let at = 0; at < chunk.length; ) at += writeSync(handle, chunk, at);
    }
  } finally {
    closeSync(handle);
  }
}
