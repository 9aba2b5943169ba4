/**
 * What Linux says of a drive in small files of their own.
 * Laws (test/property/decode-sysfs.property.test.ts):
 * - whatever the files hold, every value is one that a drive can have
 */
import { asciiText, hexOf } from './bytes.ts';
import type { CaptureValues, Decoded, UnnamedField } from './decoded.ts';

/** Bytes of the sectors that `size` counts, whatever the drive's own are. Source: Linux, Documentation/ABI/stable/sysfs-block. */
const countedBytes = 512;

/**
 * What is made of each file, by its name; undefined for a name that stands for none of them. `path` is the way from the host's own bus
 * to the drive. The forms of these files are known by their names alone, so that `format` is left undefined.
 */
export function decodeSysfs(files: ReadonlyMap<string, Uint8Array>, name: string): Decoded | undefined {
  const decoder = decoders[name];
  if (!decoder) return undefined;
  const text = (file: string): string => textOf(files.get(file) ?? nothing);
  const bytes = files.get(name) ?? nothing;
  const { unnamed = [], ...values } = decoder({ own: text(name), bytes, text });
  return { format: undefined, values, problems: [], unnamed };
}

const nothing = new Uint8Array();

interface Given {
  readonly own: string;
  readonly bytes: Uint8Array;
  /** The text of another file; empty where there is none. */
  readonly text: (file: string) => string;
}

type Made = CaptureValues & { readonly unnamed?: readonly UnnamedField[] };

const decoders: Readonly<Record<string, (given: Given) => Made>> = {
  size: ({ own, text }) => {
    const size = numberIn(own);
    const logical = numberIn(text('logical_block_size'));
    if (size === undefined || !logical) return unnamed('size', own);
    const count = (size * countedBytes) / logical;
    return Number.isSafeInteger(count) ? { lbaCount: count, logicalSectorBytes: logical } : unnamed('size', own);
  },
  logical_block_size: ({ own }) => {
    const bytes = numberIn(own);
    return bytes ? { logicalSectorBytes: bytes } : {};
  },
  physical_block_size: ({ own }) => {
    const bytes = numberIn(own);
    return bytes ? { physicalSectorBytes: bytes } : {};
  },
  // The kernel takes what does not say otherwise for something that turns, and does not know how fast.
  rotational: ({ own }) => (own === '0' ? { rpm: 0 } : {}),
  removable: ({ own }) => unnamed('removable', own),
  vendor: ({ own }) => unnamed('vendor', own),
  model: ({ own, text }) =>
    isTranslated(text) && own.length >= translatedCharacters ? unnamed('model', own) : withText('model', own),
  rev: ({ own, text }) => (isTranslated(text) ? unnamed('rev', own) : withText('firmware', own)),
  // Other kinds of names hold the serial number, and stand in page 83h as well.
  wwid: ({ own }) => {
    const [, digits] = /^naa\.([0-9a-f]{16}|6[0-9a-f]{31})$/i.exec(own) ?? [];
    return digits === undefined ? {} : { wwn: digits.toLowerCase() };
  },
  // What follows is the maker's, model and version: they have files of their own.
  inquiry: ({ bytes }) => unnamed('bytes 0 to 7', hexOf(bytes.subarray(0, 8))),
  path: ({ own }) => {
    const step = own.split('/').flatMap((part) => transports.filter(([pattern]) => pattern.test(part)))[0];
    return step ? { transport: step[1] } : {};
  },
};

/** Names of the buses a drive is reached by, in the order in which they stand on the way. Source: Linux, as seen in /sys/devices. */
const transports: readonly (readonly [RegExp, string])[] = [
  [/^usb\d+$/, 'usb'],
  [/^ata\d+$/, 'ata'],
  [/^end_device-/, 'sas'],
  [/^rport-/, 'fc'],
];

/** Room that a translator between SCSI and ATA has for the model; for the version it has 4 of 8 characters. Source: SAT-4 (T10), standard INQUIRY data. */
const translatedCharacters = 16;

/** Whether such a translator speaks for the drive: the vendor is `ATA` then. Source: as above. */
function isTranslated(text: Given['text']): boolean {
  return text('vendor') === 'ATA';
}

function withText(key: 'model' | 'firmware', own: string): Made {
  return own === '' ? {} : { [key]: own };
}

function unnamed(at: string, value: string): Made {
  return value === '' ? {} : { unnamed: [{ at, value }] };
}

function numberIn(text: string): number | undefined {
  const number = /^\d+$/.test(text) ? Number(text) : undefined;
  return Number.isSafeInteger(number) ? number : undefined;
}

/** What a file says; nothing where it holds what no text of the kernel does. */
function textOf(bytes: Uint8Array): string {
  return asciiText(bytes.filter((byte) => byte !== 0x0a)) ?? '';
}
