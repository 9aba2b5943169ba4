import type { ImagesComparison } from './compare-images.ts';
import type { Block } from './image-blocks.ts';
import type { ImageDifferences } from './image-differences.ts';
import type { ImageFacts } from './images-facts.ts';

/**
 * A comparison as data for scripts. Serial numbers are shown as the base wants them and nowhere else; offsets are numbers. What is not
 * known, or is not so, is left out.
 */
export function comparisonData({ remarks, images, reads, donor, drive }: ImagesComparison): unknown {
  const [verdict, ...others] = remarks;
  return {
    verdict,
    remarks: others,
    images: Object.fromEntries(Object.entries(images).map(([role, image]) => [role, imageData(image)])),
    reads: reads && differencesData(reads),
    donor: donor && differencesData(donor),
    drive: drive && {
      id: drive.id,
      serial: 'number' in drive.serial ? drive.serial.shown : undefined,
      serialNotSought: 'missing' in drive.serial ? drive.serial.missing : undefined,
      wwn: drive.wwn?.digits,
      sha256: drive.sha256,
      chip: drive.chip && { bytes: drive.chip.bytes, volts: drive.chip.volts },
    },
  };
}

function imageData({ name, blocks, fill, ...facts }: ImageFacts): unknown {
  return {
    file: name,
    ...facts,
    blank: fill,
    blockEntropy: blocks.map(({ entropy }) => Number(entropy.toFixed(3))),
    blankBlocks: { ff: numbersOf(blocks, 'ff'), zero: numbersOf(blocks, '00') },
  };
}

function numbersOf(blocks: readonly Block[], wanted: Block['fill']): number[] {
  return blocks.flatMap(({ fill }, number) => (fill === wanted ? [number] : []));
}

function differencesData({ isEqual, blocks, ...ways }: ImageDifferences): unknown {
  return { equal: isEqual, ...ways, blocks };
}
