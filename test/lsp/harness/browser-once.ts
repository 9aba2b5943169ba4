import { type BrowserServer, chromium } from 'playwright-core';
import type { TestProject } from 'vitest/node';
import { lacks } from './lacks.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** Where the one browser of all tests is reached; undefined where none is at hand, and nobody insists on one. */
    browserEndpoint: string | undefined;
  }
}

/** Where Debian's package puts it. */
const executablePath = '/usr/bin/chromium';

let server: BrowserServer | undefined;

/** Starts the browser before the first test: a start takes a second, and every file would pay it. */
export async function setup(project: TestProject): Promise<void> {
  server = lacks(executablePath) ? undefined : await chromium.launchServer({ executablePath });
  project.provide('browserEndpoint', server?.wsEndpoint());
}

/** Ends it. */
export async function teardown(): Promise<void> {
  await server?.close();
}
