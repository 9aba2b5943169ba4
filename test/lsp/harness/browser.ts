import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright-core';
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
import type { Files, Wire } from './client.ts';
import { lend, lentRoot } from './lend.ts';

/** Where Debian's package puts it. */
const executablePath = '/usr/bin/chromium';

/** Whether no browser is at hand, and nobody insists on one. */
export const lacksBrowser = !existsSync(executablePath) && process.env['SWAPLORE_NEEDS_BROWSER'] === undefined;

let browser: Promise<Browser> | undefined;

/** Ends the browser, if one was started. */
export async function closeBrowser(): Promise<void> {
  await (await browser)?.close();
  browser = undefined;
}

/** The page around a worker: passes on what either side says, as JSON. */
const html = `<script>
  const worker = new Worker('/main-lsp-browser.js');
  worker.onmessage = ({ data }) => toClient(JSON.stringify(data));
  worker.onerror = ({ message }) => failed(message);
</script>`;

/** The built worker in a page of its own; the client lends it its files, which lie nowhere. */
export async function overBrowser(files: Files): Promise<Wire> {
  browser ??= chromium.launch({ executablePath });
  const page = await (await browser).newPage();
  const said = new Emitter<Message>();
  const failures: string[] = [];
  await page.exposeFunction('toClient', (json: string) => said.fire(JSON.parse(json)));
  await page.exposeFunction('failed', (message: string) => failures.push(message));
  const bundle = join(dirname(inject('builtCommand')), 'main-lsp-browser.js');
  await page.route('**', (route) =>
    route.fulfill(route.request().url().endsWith('.js') ? { path: bundle } : { contentType: 'text/html', body: html }),
  );
  await page.goto('https://bench.invalid/');
  const connection = createProtocolConnection(new PageReader(said), new PageWriter(page));
  return {
    connection,
    root: lentRoot,
    initializationOptions: { files: true },
    write: lend(connection, files),
    closed: async () => {
      connection.dispose();
      await page.close();
      if (failures.length > 0) throw new Error(`The worker failed: ${failures.join('; ')}`);
    },
  };
}

class PageReader extends AbstractMessageReader implements MessageReader {
  constructor(private readonly said: Emitter<Message>) {
    super();
  }

  listen(callback: DataCallback): Disposable {
    return this.said.event(callback);
  }
}

class PageWriter extends AbstractMessageWriter implements MessageWriter {
  /** What is said later is heard later. */
  private turn: Promise<unknown> = Promise.resolve();

  constructor(private readonly page: Page) {
    super();
  }

  async write(message: Message): Promise<void> {
    const said = `worker.postMessage(${JSON.stringify(message)})`;
    this.turn = this.turn.then(() => this.page.evaluate(said));
    await this.turn;
  }

  end(): void {}
}
