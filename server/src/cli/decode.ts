import { decode as decodeBytes } from '../core/captures/decode.ts';
import type { CaptureValues, Decoded, UnnamedField } from '../core/captures/decoded.ts';
import { maskSerials, type SerialPolicy } from '../core/captures/mask-serials.ts';
import { wrapText } from '../core/reports/render-text.ts';
import { keyNodes } from '../core/schema/key-rows.ts';
import { limits } from '../core/syntax/limits.ts';
import { parseWwn } from '../core/terms/wwn.ts';
import { byteSize } from '../core/text/byte-size.ts';
import { cutText } from '../core/text/cut-text.ts';
import { inThousands } from '../core/text/in-thousands.ts';
import { singleSpaced } from '../core/text/single-spaced.ts';
import { visible } from '../core/text/visible.ts';
import { type Command, jsonOption } from './command.ts';
import { exitCodes } from './exit-codes.ts';
import { readSerials, serialsOfBase, serialsOption } from './read-serials.ts';
import { readSomeBytes } from './read-some-bytes.ts';
import { styled, type Terminal, toJsonText } from './terminal.ts';

/** `swaplore decode`: what a drive reported, out of files. */
export const decode: Command = {
  name: 'decode',
  takes: 'FILE…',
  positionals: { min: 1, max: Number.POSITIVE_INFINITY },
  describe:
    'Say what a drive reported: IDENTIFY DEVICE or SMART data, VPD pages, JSON of smartctl or lsblk. `-` reads standard input.',
  options: [
    jsonOption,
    serialsOption,
    {
      name: 'folder',
      value: 'DIR',
      describe: 'The base whose policy on serial numbers counts (default: the nearest swaplore.yaml upward).',
    },
  ],
  run: async (args, terminal, program) => {
    const inBase = await serialsOfBase(args, terminal);
    const serials = readSerials(args, program, { inBase, otherwise: 'Nothing was decoded.' });
    const files = args.positionals.map((file) => {
      const decoded = decodeBytes(readSomeBytes(file, limits.fileBytes + 1, terminal));
      return { file, ...covered(decoded, serials) };
    });
    terminal.out(
      args.values['json'] === true
        ? toJsonText(files.map((file) => ({ ...file, format: file.format ?? null })))
        : `${files.map((file) => describe(file, terminal)).join('\n\n')}\n`,
    );
    const hasError = files.some(({ problems }) => problems.some(({ severity }) => severity === 'error'));
    return hasError ? exitCodes.findings : exitCodes.clean;
  },
};

type Shown = Omit<Decoded, 'likelySerials'>;

/** Covers what is a serial number, and what may be one. */
function covered({ likelySerials = [], ...shown }: Decoded, serials: SerialPolicy): Shown {
  return maskSerials({ shown, likely: likelySerials.map((serial) => ({ serial })) }, serials).shown;
}

function describe(
  { file, format, values, problems, unnamed }: Shown & { readonly file: string },
  terminal: Terminal,
): string {
  const meaning = format === undefined ? undefined : meanings.get(format);
  const told = problems.flatMap(({ severity, message }) =>
    wrapText(visible(`${severity}: ${message}`), terminal.columns, '  '),
  );
  return [
    styled(terminal, 'bold', visible(file)),
    ...wrapText(meaning ?? '', terminal.columns, '  '),
    ...told,
    ...valueLines(values, terminal),
    ...unnamedLines(unnamed, terminal),
  ].join('\n');
}

/** What each form is called. Source: schemas/capture.schema.json. */
const meanings = new Map(
  keyNodes['capture.sources']
    ?.find(({ name }) => name === 'format')
    ?.values?.map(({ value, meaning }) => [value, meaning]),
);

/** Columns for what a value is called. */
const labelWidth = 30;

function valueLines(values: CaptureValues, terminal: Terminal): readonly string[] {
  return (keyNodes['captureValues'] ?? []).flatMap(({ name, title, unit }) => {
    const value = values[name as keyof CaptureValues];
    if (value === undefined) return [];
    const label = title.replace(/ as captured$/, '');
    return aside(label, inWords({ name, value, unit, values }), terminal);
  });
}

interface ShownValue {
  readonly name: string;
  readonly value: string | number;
  readonly unit: string | undefined;
  readonly values: CaptureValues;
}

function inWords({ name, value, unit, values }: ShownValue): string {
  if (name === 'wwn') {
    const wwn = parseWwn(String(value));
    return 'oui' in wwn && wwn.oui !== undefined ? `${value} (IEEE prefix ${wwn.oui})` : String(value);
  }
  if (typeof value === 'string') return value;
  const { logicalSectorBytes: bytes } = values;
  const size = name === 'lbaCount' && bytes !== undefined ? ` (${byteSize(value * bytes)})` : '';
  return `${inThousands(value)}${unit === undefined ? '' : ` ${unit}`}${size}`;
}

/** Fields shown in text; `--json` prints all. */
const shownFields = 12;

function unnamedLines(unnamed: readonly UnnamedField[], terminal: Terminal): readonly string[] {
  if (unnamed.length === 0) return [];
  const left = unnamed.length - shownFields;
  return [
    '  Further fields, as they came:',
    ...unnamed.slice(0, shownFields).flatMap(({ at, value }) => {
      const room = terminal.columns - labelWidth - 4;
      return aside(`  ${cutText(at, labelWidth - 4)}`, cutText(singleSpaced(value), room), terminal);
    }),
    ...(left > 0 ? [`    and ${left} more; --json prints them all`] : []),
  ];
}

/** A label with its text beside it, in as many lines as the text takes. */
function aside(label: string, text: string, terminal: Terminal): readonly string[] {
  const [first = '', ...rest] = wrapText(visible(text), terminal.columns - labelWidth);
  const indent = ' '.repeat(labelWidth);
  return [`${`  ${visible(label)}`.padEnd(labelWidth - 1)} ${first}`, ...rest.map((line) => indent + line)];
}
