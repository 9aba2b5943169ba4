/** The language server in a worker of a browser. All files are the client's. */
import { BrowserMessageReader, BrowserMessageWriter, createConnection } from 'vscode-languageserver/browser';
import { ClientStore } from './host/client-store.ts';
import { systemDay } from './host/system-day.ts';
import { clientFiles } from './lsp/protocol.ts';
import { startServer } from './lsp/server.ts';

/** Set by the build, from package.json. */
declare const SWAPLORE_VERSION: string;
/** The worker itself, and the channels of browsers. */
declare const self: ConstructorParameters<typeof BrowserMessageReader>[0];
declare const MessageChannel: new () => {
  readonly port1: { onmessage: () => void };
  readonly port2: { postMessage(message: undefined): void };
};

const connection = createConnection(new BrowserMessageReader(self), new BrowserMessageWriter(self));

// Behind every message that has arrived, and at once after them: browsers hold back timers that start one another.
const { port1: turns, port2: turnsIn } = new MessageChannel();
const waiting: (() => void)[] = [];
turns.onmessage = () => waiting.shift()?.();

function nextTurn(): Promise<void> {
  return new Promise((resolve) => {
    waiting.push(resolve);
    turnsIn.postMessage(undefined);
  });
}

startServer(connection, {
  version: SWAPLORE_VERSION,
  worldFor: (params) => {
    const files = clientFiles(connection, params);
    const store = files && new ClientStore(files);
    return {
      storeFor: () => store,
      revisionsFor: () => undefined,
      today: systemDay,
      nowMs: () => performance.now(),
      pause: (ms) => (ms > 0 ? new Promise((resolve) => setTimeout(resolve, ms)) : nextTurn()),
    };
  },
});
