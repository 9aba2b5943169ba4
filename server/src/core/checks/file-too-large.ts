import { limits } from '../syntax/limits.ts';
import { inThousands } from '../text/in-thousands.ts';
import { defineCheck } from './define-check.ts';
import { describeFaults } from './fault-check.ts';

/** A YAML file beyond the size limit. */
export const fileTooLarge = defineCheck({
  check: 'file-too-large',
  group: 'file',
  severity: 'error',
  scope: 'file',
  why: 'No bench writes a megabyte of records into one file; it is an import or a mistake. Larger files make the YAML reader, and every editor, slow enough to look broken.',
  examples: () => [
    {
      title: 'One byte too many; the record in it is not called missing',
      files: {
        'makers/wren.yaml': padded(limits.fileBytes + 1),
        'families/tern.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\n',
      },
      wholeFile: ['makers/wren.yaml: file-too-large: The file has 1,000,001 bytes; at most 1,000,000 are read.'],
    },
    { title: 'Just as large as a file may be', files: { 'makers/wren.yaml': padded(limits.fileBytes) } },
  ],
  run: describeFaults('too-large', (fault, file) => ({
    at: { file: file.path, start: 0, end: 0 },
    message: `The file has ${inThousands(fault.bytes)} bytes; at most ${inThousands(limits.fileBytes)} are read.`,
    help: 'Split it into several files; folders and file names carry no meaning.',
  })),
});

/** A maker of exactly that many bytes, filled up with a comment. */
function padded(bytes: number): string {
  const record = 'kind: maker\nid: wren\nname: Wren\n';
  return `${record}#${' '.repeat(bytes - record.length - 2)}\n`;
}
