import { createHash } from 'node:crypto';
import { expect, it } from 'vitest';
import {
  compareImages,
  type ImagesComparison,
  type RomImage,
} from '../../server/src/core/rom-images/compare-images.ts';
import { driveOfImages } from '../../server/src/core/rom-images/drive-of-images.ts';
import { demoBase } from '../harness/demo-base.ts';
import { loadFiles } from '../harness/lint-files.ts';

function imageOf(name: string): RomImage {
  const bytes = demoBase()[`roms/${name}.bin`] as Uint8Array;
  return { name, bytes, sha256: createHash('sha256').update(bytes).digest('hex') };
}

async function compared(read2: string, donorNow: string): Promise<ImagesComparison> {
  const snapshot = await loadFiles(demoBase());
  const recorded = snapshot.records('drive').flatMap(({ id, data }) => {
    const sha256 = data.rom_image?.sha256;
    return sha256 === undefined ? [] : [{ drive: id, sha256 }];
  });
  const drive = driveOfImages(snapshot.find('drive', 'd-0312')!, snapshot.config, { bytes: 524_288, volts: 3.3 });
  return compareImages({
    read1: imageOf('d-0312-read-1'),
    read2: imageOf(read2),
    donorNow: imageOf(donorNow),
    drive,
    recorded,
  });
}

it.each([
  ['d-0312-read-2', 'd-0311-now', ['arrived', 'agree', 'as_recorded']],
  ['d-0312-read-2', 'd-0311-before', ['donor_holds_another', 'agree', 'as_recorded']],
  ['d-0312-clip-slipped', 'd-0311-now', ['reads_partly_blank', 'donor_not_compared']],
])('of the chips tells good reads from bad ones, with %s and %s', async (read2, donorNow, cases) => {
  const { remarks } = await compared(read2, donorNow);
  expect(remarks.map((remark) => remark.case)).toEqual(cases);
});

it('of the chips shows where a bad read is bad, and where the world-wide name stands', async () => {
  const { reads, images } = await compared('d-0312-clip-slipped', 'd-0311-now');
  expect(reads?.blocks.map(({ block }) => block)).toEqual([12, 13, 66]);
  expect(images.read1?.wwn?.map(({ spelling, at }) => [spelling, at])).toEqual([
    ['big_endian', [0x40008]],
    ['digits', [0x7f004]],
  ]);
});
