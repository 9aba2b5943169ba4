import type { BoardRevisionsRomsData } from '../../../../schemas/gen/records.ts';
import type { BaseConfig } from '../model/config.ts';
import type { DriveRecord } from '../model/record.ts';
import { maskedSerial } from '../terms/masked-serial.ts';
import { isFullSerial } from '../terms/same-serial.ts';
import { parseWwn, type Wwn } from '../terms/wwn.ts';
import { fewestCharacters } from './find-identity.ts';

/** A serial number that can be looked for, and how the base wants it shown; or why it cannot be. */
type SoughtSerial =
  | { readonly number: string; readonly shown: string }
  | { readonly missing: 'not_recorded' | 'masked' | 'short' };

/** What a base records of the drive whose ROM was read, as far as images are held against it. */
export interface DriveOfImages {
  readonly id: string;
  readonly serial: SoughtSerial;
  readonly wwn: Wwn | undefined;
  /** SHA-256 of the image that was kept, 64 lower-case digits. */
  readonly sha256: string | undefined;
  /** The chip its board was built with. */
  readonly chip: Pick<BoardRevisionsRomsData, 'bytes' | 'volts'> | undefined;
}

/** What images are held against, out of the drive's record. `chip` is the ROM of its own board's revision. */
export function driveOfImages(
  { id, data }: DriveRecord,
  { serials }: Pick<BaseConfig, 'serials'>,
  chip: DriveOfImages['chip'],
): DriveOfImages {
  const wwn = data.wwn === undefined ? undefined : parseWwn(data.wwn);
  return {
    id,
    serial: soughtSerial(data.serial, serials),
    wwn: wwn && 'says' in wwn ? undefined : wwn,
    sha256: data.rom_image?.sha256?.toLowerCase(),
    chip,
  };
}

function soughtSerial(serial: string | undefined, policy: BaseConfig['serials']): SoughtSerial {
  if (serial === undefined) return { missing: 'not_recorded' };
  if (!isFullSerial(serial)) return { missing: 'masked' };
  const number = serial.trim();
  if (number.length < fewestCharacters) return { missing: 'short' };
  return { number, shown: policy === 'full' ? number : (maskedSerial(number) ?? '****') };
}
