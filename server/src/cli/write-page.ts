import { basename, dirname } from 'node:path';
import type { Block } from '../core/reports/document.ts';
import { singlePage } from '../core/reports/single-page.ts';
import { styleHash } from './style-hash.ts';
import type { Terminal } from './terminal.ts';
import { writeReportPages } from './write-report-pages.ts';

/** Writes a document as a page into this file, over an older page of ours and over nothing else. Throws `UsageError` where it cannot. */
export function writePage(path: string, blocks: readonly Block[], terminal: Terminal): void {
  const html = () => singlePage(blocks, { kind: 'file', styleHash: styleHash() });
  writeReportPages(dirname(path), [{ file: basename(path), html }], terminal);
}
