import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { CaptureValues } from '../../server/src/core/captures/decoded.ts';

const folder = fileURLToPath(new URL('../fixtures/', import.meta.url));

/** The bytes of a fixture. */
export function captureFixture(path: string): Uint8Array {
  return readFileSync(folder + path);
}

/** What went into an IDENTIFY DEVICE block of the fixtures. */
interface IdentifyRecipe {
  readonly serial: string;
  readonly model: string;
  readonly firmware: string;
  readonly lba: number;
  readonly logical: number;
  readonly physical: number;
  /** As word 217 has it: 1 where nothing turns. */
  readonly rpm: number;
  readonly form: number;
  readonly wwn: string | null;
  readonly integrity?: boolean;
}

/** An IDENTIFY DEVICE block: its words as text, what went in, and what hdparm 9.65 said to it. */
export interface IdentifyFixture {
  readonly name: string;
  readonly words: string;
  readonly recipe: IdentifyRecipe;
  readonly hdparm: string;
}

/** Every IDENTIFY DEVICE block of the fixtures. */
export function identifyFixtures(): readonly IdentifyFixture[] {
  const read = (file: string): string => readFileSync(`${folder}captures/identify/${file}`, 'utf8');
  const names = readdirSync(`${folder}captures/identify`).flatMap((file) => /^(.*)\.hex$/.exec(file)?.[1] ?? []);
  return names.map((name) => ({
    name,
    words: read(`${name}.hex`),
    recipe: JSON.parse(read(`${name}.json`)),
    hdparm: read(`${name}.txt`),
  }));
}

/** Every VPD page of the fixtures: its bytes as text, and what sg_vpd 1.46 said to it. */
export function vpdFixtures(): readonly { readonly name: string; readonly hex: string; readonly sgVpd: string }[] {
  const names = readdirSync(`${folder}vpd`).flatMap((file) => /^(.*)\.hex$/.exec(file)?.[1] ?? []);
  const read = (file: string): string => readFileSync(`${folder}vpd/${file}`, 'utf8');
  return names.map((name) => ({ name, hex: read(`${name}.hex`), sgVpd: read(`${name}.txt`) }));
}

/** The fields hdparm prints that have names here. */
export type PrintedFields = Pick<
  CaptureValues,
  | 'serial'
  | 'model'
  | 'firmware'
  | 'wwn'
  | 'lbaCount'
  | 'logicalSectorBytes'
  | 'physicalSectorBytes'
  | 'rpm'
  | 'formFactor'
> & { readonly isChecksumRight?: boolean; readonly isIncomplete: boolean };

/** What `hdparm --Istdin` says, as values. */
export function readHdparm(printed: string): PrintedFields {
  const field = (pattern: RegExp): string | undefined => pattern.exec(printed)?.[1]?.trim() || undefined;
  const number = (pattern: RegExp): number | undefined => {
    const text = field(pattern);
    return text === undefined ? undefined : Number(text);
  };
  const both = number(/Logical\/Physical Sector size: +(\d+)/);
  const turns = field(/Nominal Media Rotation Rate: (.*)/);
  return {
    serial: field(/Serial Number: {6}(.*)/),
    model: field(/Model Number: {7}(.*)/),
    firmware: field(/Firmware Revision: {2}(.*)/),
    wwn: field(/WWN Device Identifier: (\w+)/),
    lbaCount: number(/LBA48 +user addressable sectors: *(\d+)/) ?? number(/LBA +user addressable sectors: *(\d+)/),
    logicalSectorBytes: both ?? number(/Logical +Sector size: +(\d+)/),
    physicalSectorBytes: both ?? number(/Physical Sector size: +(\d+)/),
    rpm: turns === 'Solid State Device' ? 0 : turns === undefined ? undefined : Number(turns),
    formFactor: field(/Form Factor: (.*) inch/)
      ?.concat('in')
      .replace('less than ', 'under '),
    isChecksumRight: field(/Checksum: (\w+)/) === undefined ? undefined : field(/Checksum: (\w+)/) === 'correct',
    isIncomplete: printed.includes('ID response incomplete'),
  } as PrintedFields;
}

/** The same fields of what was decoded here. */
export function printedFieldsOf({
  values,
  problems,
}: {
  readonly values: CaptureValues;
  readonly problems: readonly { readonly message: string }[];
}): Partial<PrintedFields> {
  const { serial, model, firmware, wwn, lbaCount, logicalSectorBytes, physicalSectorBytes, rpm, formFactor } = values;
  return {
    serial,
    model,
    firmware,
    wwn,
    lbaCount,
    logicalSectorBytes,
    physicalSectorBytes,
    rpm,
    formFactor,
    isIncomplete: problems.some(({ message }) => message.includes('incomplete')),
  } as Partial<PrintedFields>;
}
