import { basename, resolve } from 'node:path';
import { internalCheckFailed } from '../core/checks/internal-check-failed.ts';
import { checks } from '../core/checks/registry.ts';
import { countsInWords } from '../core/reports/counts-in-words.ts';
import { filePages } from '../core/reports/file-pages.ts';
import { PlaceBook } from '../core/reports/place-book.ts';
import { reportNames } from '../core/reports/report-name.ts';
import { baseReports } from '../core/reports/report-titles.ts';
import { shortName } from '../core/text/short-name.ts';
import { visible } from '../core/text/visible.ts';
import { foundIn } from './check-base.ts';
import { type Command, folderOption, noCacheOption, todayOption } from './command.ts';
import { exitCodes, UsageError } from './exit-codes.ts';
import { shownPath, surveyOneBase, tapesOf } from './open-base.ts';
import { readToday } from './read-today.ts';
import { styleHash } from './style-hash.ts';
import { writeReportPages } from './write-report-pages.ts';

/** `swaplore report`: the reports of a base as pages for a browser. */
export const report: Command = {
  name: 'report',
  takes: '--out DIR',
  positionals: { min: 0, max: 0 },
  describe: `Write pages for a browser: ${Object.values(baseReports)
    .map(({ shows }) => shows)
    .join(', ')}, and each family.`,
  options: [
    {
      name: 'out',
      value: 'DIR',
      describe: 'The folder to write into. Only pages that this command wrote are replaced.',
    },
    folderOption,
    todayOption,
    noCacheOption,
  ],
  run: async (args, terminal, program) => {
    const today = readToday(args);
    const out = args.values['out'];
    if (typeof out !== 'string' || out === '')
      throw new UsageError('report needs --out DIR.', 'Name a folder; it is made where there is none.');
    const surveyed = await surveyOneBase(args, terminal, program);
    const { root } = surveyed;
    const { snapshot, findings: found } = await foundIn(surveyed, { today, checks });
    const book = new PlaceBook(await tapesOf(root, found));
    const findings = book.inOrder(found);
    const baseName = shortName(snapshot.config.name ?? basename(root));
    const pages = filePages({ snapshot, findings, baseName, today, book, styleHash: styleHash() });
    const folder = resolve(terminal.cwd, out);
    writeReportPages(folder, pages, terminal);
    const names = pages
      .slice(0, reportNames.length)
      .map(({ file }) => file)
      .join(', ');
    const families = pages.length - reportNames.length;
    const others = families === 0 ? '' : `\nFamilies with a page each: ${families}`;
    terminal.out(
      `${baseName}: ${countsInWords(findings)}\nWritten to ${visible(shownPath(folder, terminal))}: ${names}${others}\n`,
    );
    if (findings.some(({ check }) => check === internalCheckFailed.check)) return exitCodes.failed;
    return findings.some(({ severity }) => severity === 'error') ? exitCodes.findings : exitCodes.clean;
  },
};
