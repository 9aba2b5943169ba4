import { join } from 'node:path';
import type { Finding } from '../core/checks/finding.ts';
import { internalCheckFailed } from '../core/checks/internal-check-failed.ts';
import { renderMarkdown } from '../core/reports/render-markdown.ts';
import { reviewDocument } from '../core/reports/review.ts';
import { reviewData } from '../core/reports/review-data.ts';
import { type Review, reviewChange } from '../core/review/review-change.ts';
import { drained } from '../core/terms/drained.ts';
import { type Arguments, type Command, folderOption, jsonOption, noCacheOption, todayOption } from './command.ts';
import { documentText } from './document-text.ts';
import { exitCodes, UsageError } from './exit-codes.ts';
import { locateReview } from './locate-review.ts';
import { shownFile, shownPath } from './open-base.ts';
import { type Compared, type OpenReview, openReview } from './open-review.ts';
import { readToday } from './read-today.ts';
import { withShownFiles } from './shown-files.ts';
import { type Terminal, toJsonText } from './terminal.ts';

const formats = ['text', 'markdown', 'json'] as const;
type Format = (typeof formats)[number];

/** `swaplore review`: what a change of a base comes to. */
export const review: Command = {
  name: 'review',
  takes: '--base REV',
  positionals: { min: 0, max: 0 },
  describe: 'Show what a change of a base comes to, since it parted from another revision of the git repository.',
  options: [
    { name: 'base', value: 'REV', describe: 'The revision to compare with, such as origin/main.' },
    { name: 'head', value: 'REV', describe: 'The revision to judge (default: the files as they are on the disk).' },
    { name: 'format', value: 'FORMAT', describe: `One of ${formats.join(', ')} (default: text).` },
    folderOption,
    todayOption,
    jsonOption,
    noCacheOption,
  ],
  run: async (args, terminal, program) => {
    const today = readToday(args);
    const format = readFormat(args);
    const compared = readCompared(args);
    const open = await openReview(compared, args, terminal, program);
    const found = drained(reviewChange(open, today));
    terminal.out(await formatted(format, found, { compared, open, terminal }));
    return endOf(found);
  },
};

function readFormat({ values: { format, json } }: Arguments): Format {
  if (format === undefined) return json === true ? 'json' : 'text';
  const known = formats.find((name) => name === format);
  if (!known) throw new UsageError(`Format \`${String(format)}\` is not known.`, `Use one of ${formats.join(', ')}.`);
  if (json === true && known !== 'json') throw new UsageError(`--json and --format ${known} ask for different things.`);
  return known;
}

function readCompared({ values: { base, head } }: Arguments): Compared {
  if (typeof base !== 'string' || base === '') {
    throw new UsageError(
      'review needs --base REV.',
      'Name the revision to compare with, such as the branch that the change is for: --base origin/main.',
    );
  }
  return { base, head: typeof head === 'string' ? head : undefined };
}

interface Surroundings {
  readonly compared: Compared;
  readonly open: OpenReview;
  readonly terminal: Terminal;
}

async function formatted(format: Format, found: Review, { compared, open, terminal }: Surroundings): Promise<string> {
  const folder = shownPath(join(open.repository.folder, open.root), terminal);
  const shown = (file: string): string => shownFile(folder, file);
  const names = { base: compared.base, head: compared.head ?? 'the files on the disk', remarks: open.notes };
  if (format === 'json') {
    const { review: located, findingData } = await locateReview(found, open, shown);
    return toJsonText(reviewData(located, { ...names, findingData }));
  }
  const blocks = reviewDocument(withShownFiles(found, shown), names);
  if (format === 'markdown') return renderMarkdown(blocks);
  return documentText(blocks, terminal);
}

function endOf({ findings, onMerge = [] }: Review): number {
  const news: readonly Finding[] = [...findings.new, ...onMerge.map(({ finding }) => finding)];
  if (news.some(({ check }) => check === internalCheckFailed.check)) return exitCodes.failed;
  return news.some(({ severity }) => severity === 'error') ? exitCodes.findings : exitCodes.clean;
}
