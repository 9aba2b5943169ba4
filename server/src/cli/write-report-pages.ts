import type { FilePage } from '../core/reports/file-pages.ts';
import { pageMark } from '../core/reports/render-html.ts';
import { writePages } from '../host/disk/page-folder.ts';
import { UsageError } from './exit-codes.ts';
import { shownPath } from './open-base.ts';
import type { Terminal } from './terminal.ts';

/** Writes pages into a folder, over older pages of ours and over nothing else. Throws `UsageError` where it cannot. */
export function writeReportPages(folder: string, pages: readonly FilePage[], terminal: Terminal): void {
  const failure = writePages(folder, pages, pageMark);
  if (!failure) return;
  const { path, reason, isTaken } = failure;
  throw new UsageError(
    `${shownPath(path, terminal)} ${reason}${isTaken ? ', so nothing was written' : ''}.`,
    isTaken ? 'Name another place, or move what stands there.' : undefined,
  );
}
