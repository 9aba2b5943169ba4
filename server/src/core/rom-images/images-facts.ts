import type { DriveOfImages } from './drive-of-images.ts';
import type { Sighting } from './find-identity.ts';
import type { Block, Fill } from './image-blocks.ts';
import type { ImageDifferences } from './image-differences.ts';
import type { SizeKind } from './image-size.ts';
import type { ParameterTable } from './parameter-table.ts';
import type { Repeats } from './repetition.ts';

/** What an image is: one of two reads of the patient's chip, or what is on the donor's chip now. */
export const imageRoles = ['read1', 'read2', 'donorNow'] as const;

/** One of these. */
export type ImageRole = (typeof imageRoles)[number];

/** What an image is by itself. */
export interface ImageFacts {
  readonly name: string;
  readonly bytes: number;
  readonly size: SizeKind;
  readonly sha256: string;
  readonly blocks: readonly Block[];
  /** What all of it is full of; undefined where it is not blank. */
  readonly fill: Fill | undefined;
  /** The short sequence it holds over and over; undefined where it holds more, or is blank. */
  readonly pattern: readonly number[] | undefined;
  /** How it divides where it is the same part several times. */
  readonly repeats: Repeats | undefined;
  readonly parameterTable: ParameterTable | undefined;
  /** Drives whose recorded image it is, by id. */
  readonly recordedFor: readonly string[];
  /** Where the drive's own serial number and world-wide name stand; undefined where the base has none to look for. */
  readonly serial: readonly Sighting[] | undefined;
  readonly wwn: readonly Sighting[] | undefined;
}

/** What is known of the images before anything is said about them. */
export interface ImagesFacts {
  readonly images: { readonly [Role in ImageRole]?: ImageFacts };
  /** How the two reads differ, read 1 being the first; undefined where there is one read. */
  readonly reads: ImageDifferences | undefined;
  /** How the patient's image, the first, and what is on the donor's chip differ; undefined where one of them is not there, or the reads differ. */
  readonly donor: ImageDifferences | undefined;
  readonly drive: DriveOfImages | undefined;
}
