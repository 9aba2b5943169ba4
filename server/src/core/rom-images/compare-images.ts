/**
 * Images of ROM chips held against each other and against what a base records: bytes in, data out.
 * Laws (test/property/rom-images.property.test.ts):
 * - swapping the two reads changes nothing but their names
 * - what is said of two reads fits whether they are equal, whatever happened to the second
 */
import type { DriveOfImages } from './drive-of-images.ts';
import { findSerial, findWwn } from './find-identity.ts';
import { fillOf, imageBlocks } from './image-blocks.ts';
import type { Remark } from './image-case.ts';
import { imageDifferences } from './image-differences.ts';
import { sizeKind } from './image-size.ts';
import type { ImageFacts, ImagesFacts } from './images-facts.ts';
import { readParameterTable } from './parameter-table.ts';
import { remarksOn } from './remarks-on.ts';
import { patternOf, repeatsOf } from './repetition.ts';

/** An image as it was handed over. */
export interface RomImage {
  /** What to call its file. */
  readonly name: string;
  readonly bytes: Uint8Array;
  /** Of the bytes, 64 lower-case digits. */
  readonly sha256: string;
}

/** Everything images are compared from. */
export interface ImagesInput {
  readonly read1: RomImage;
  readonly read2?: RomImage | undefined;
  readonly donorNow?: RomImage | undefined;
  /** The drive whose ROM was read, where a base records it. */
  readonly drive?: DriveOfImages | undefined;
  /** Sums of the images a base records, with the drives they are of. */
  readonly recorded: readonly { readonly drive: string; readonly sha256: string }[];
}

/** Images compared, and what there is to say of them. */
export interface ImagesComparison extends ImagesFacts {
  /** The first is the verdict. Those at error level say what is not to be done. */
  readonly remarks: readonly [Remark, ...Remark[]];
}

/** Compares images of ROM chips. Never throws, whatever they hold. */
export function compareImages(input: ImagesInput): ImagesComparison {
  const { read1, read2, donorNow, drive } = input;
  const reads = read2 && imageDifferences(read1.bytes, read2.bytes);
  const hasPatientImage = reads === undefined || reads.isEqual;
  const facts: ImagesFacts = {
    images: {
      read1: imageFacts(read1, input),
      ...(read2 && { read2: imageFacts(read2, input) }),
      ...(donorNow && { donorNow: imageFacts(donorNow, input) }),
    },
    reads,
    donor: donorNow && hasPatientImage ? imageDifferences(read1.bytes, donorNow.bytes) : undefined,
    drive,
  };
  return { ...facts, remarks: remarksOn(facts) };
}

function imageFacts({ name, bytes, sha256 }: RomImage, { drive, recorded }: ImagesInput): ImageFacts {
  const fill = fillOf(bytes);
  const isBlank = fill !== undefined;
  return {
    name: shownName(name, drive),
    bytes: bytes.length,
    size: sizeKind(bytes.length),
    sha256,
    blocks: imageBlocks(bytes),
    fill,
    pattern: isBlank ? undefined : patternOf(bytes),
    repeats: isBlank ? undefined : repeatsOf(bytes),
    parameterTable: readParameterTable(bytes),
    recordedFor: recorded.filter((image) => image.sha256.toLowerCase() === sha256).map((image) => image.drive),
    serial: drive && 'number' in drive.serial ? findSerial(bytes, drive.serial.number) : undefined,
    wwn: drive?.wwn && findWwn(bytes, drive.wwn),
  };
}

/** Files of images are often named for the drive's serial number, which may be one to mask. */
function shownName(name: string, drive: DriveOfImages | undefined): string {
  if (!drive || !('number' in drive.serial)) return name;
  const { number, shown } = drive.serial;
  let masked = '';
  for (let at = 0; at < name.length; ) {
    // Not sought in the name as capitals: these may be more letters, and what is found there stands elsewhere in the name.
    const isHere = name.slice(at, at + number.length).toUpperCase() === number.toUpperCase();
    masked += isHere ? shown : name.charAt(at);
    at += isHere ? number.length : 1;
  }
  return masked;
}
