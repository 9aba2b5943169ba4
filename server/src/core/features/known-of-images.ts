import { findRevision } from '../conditions/swap.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { DriveRecord } from '../model/record.ts';
import type { ImagesInput } from '../rom-images/compare-images.ts';
import { driveOfImages } from '../rom-images/drive-of-images.ts';
import { romWithAdaptives } from '../rom-images/rom-with-adaptives.ts';

/** What a base says of images of ROM chips, and of the drive whose chip was read, where that is known. */
export function knownOfImages(
  drive: DriveRecord | undefined,
  snapshot: Snapshot,
): Pick<ImagesInput, 'drive' | 'recorded'> {
  const recorded = snapshot.records('drive').flatMap(({ id, data }) => {
    const sha256 = data.rom_image?.sha256;
    return sha256 === undefined ? [] : [{ drive: id, sha256 }];
  });
  if (!drive) return { recorded };
  const { board } = drive.data;
  const revision = findRevision(snapshot.find('board', board?.id), board?.rev);
  return { recorded, drive: driveOfImages(drive, snapshot.config, romWithAdaptives(revision?.roms)) };
}
