import { dirname, join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { inject } from 'vitest';
import {
  AbstractMessageReader,
  AbstractMessageWriter,
  createProtocolConnection,
  type DataCallback,
  type Disposable,
  Emitter,
  type Message,
  type MessageReader,
  type MessageWriter,
} from 'vscode-languageserver/node';
import { connectBrowser } from '../../harness/chromium.ts';
import type { Files, Wire } from './client.ts';
import { lend, lentRoot } from './lend.ts';

/** A page that starts workers and passes on, as JSON, what they say. */
const html = `<script>
  const workers = [];
  function start() {
    const name = workers.length;
    const worker = new Worker('/main-lsp-browser.js');
    worker.onmessage = ({ data }) => heard(name, JSON.stringify(data));
    worker.onerror = ({ message }) => failed(name, message);
    workers.push(worker);
    return name;
  }
</script>`;

/** A page of the browser that all tests share. Nothing it asks for leaves this machine. */
class Bench {
  /** Messages and failures of workers, by their names. */
  readonly heard = new Emitter<{ readonly worker: number; readonly message: Message }>();
  readonly failures = new Map<number, string>();

  private constructor(
    private readonly browser: Browser,
    readonly page: Page,
  ) {}

  static async start(): Promise<Bench> {
    const browser = await connectBrowser();
    const bench = new Bench(browser, await browser.newPage());
    const { page, heard, failures } = bench;
    await page.exposeFunction('heard', (worker: number, json: string) =>
      heard.fire({ worker, message: JSON.parse(json) }),
    );
    await page.exposeFunction('failed', (worker: number, message: string) => failures.set(worker, message));
    const script = { path: join(dirname(inject('builtCommand')), 'main-lsp-browser.js') };
    await page.route('**', (route) =>
      route.fulfill(route.request().url().endsWith('.js') ? script : { contentType: 'text/html', body: html }),
    );
    await page.goto('https://bench.invalid/');
    return bench;
  }

  end(): Promise<void> {
    return this.browser.close();
  }
}

let started: Promise<Bench> | undefined;

/** Leaves the browser, if a test has used it: its page goes, it stays. */
export async function closeBrowser(): Promise<void> {
  const bench = await started;
  started = undefined;
  await bench?.end();
}

/** The built worker in a browser; the client lends it its files, which lie nowhere. */
export async function overBrowser(files: Files): Promise<Wire> {
  started ??= Bench.start();
  const bench = await started;
  const worker = await bench.page.evaluate<number>('start()');
  const connection = createProtocolConnection(new WorkerReader(bench, worker), new WorkerWriter(bench, worker));
  return {
    connection,
    root: lentRoot,
    initializationOptions: { files: true },
    ...lend(connection, files),
    closed: async () => {
      connection.dispose();
      await bench.page.evaluate(`workers[${worker}].terminate()`);
      const failure = bench.failures.get(worker);
      if (failure !== undefined) throw new Error(`The worker failed: ${failure}`);
    },
  };
}

class WorkerReader extends AbstractMessageReader implements MessageReader {
  constructor(
    private readonly bench: Bench,
    private readonly worker: number,
  ) {
    super();
  }

  listen(callback: DataCallback): Disposable {
    return this.bench.heard.event(({ worker, message }) => {
      if (worker === this.worker) callback(message);
    });
  }
}

class WorkerWriter extends AbstractMessageWriter implements MessageWriter {
  /** What is said later is heard later. */
  private turn: Promise<unknown> = Promise.resolve();

  constructor(
    private readonly bench: Bench,
    private readonly worker: number,
  ) {
    super();
  }

  async write(message: Message): Promise<void> {
    const saying = `workers[${this.worker}].postMessage(${JSON.stringify(message)})`;
    this.turn = this.turn.then(() => this.bench.page.evaluate(saying));
    await this.turn;
  }

  end(): void {}
}
