import { binarySize } from '../text/binary-size.ts';
import { inARow } from '../text/in-a-row.ts';
import { fillInWords } from './fill-in-words.ts';
import { firstRemark, type ImageCase, type Remark, type Said } from './image-case.ts';
import type { ImageDifferences } from './image-differences.ts';
import type { ImageFacts, ImagesFacts } from './images-facts.ts';

/** What is on the donor's chip, held against the patient's image. */
interface DonorImage extends ImageDifferences {
  readonly patient: ImageFacts;
  readonly donor: ImageFacts;
  readonly drive: ImagesFacts['drive'];
}

/** Source: common practice, no source. */
const keepOff = "Until the patient's image is on it, keep this board off the patient's drive.";

/** Ways in which the donor's chip can stand to the patient's image, the one that explains most first; the last fits always. */
const cases: readonly ImageCase<DonorImage>[] = [
  {
    case: 'arrived',
    severity: 'info',
    says: ({ isEqual }) => (isEqual ? { message: "The patient's image is on the donor's chip." } : undefined),
  },
  { case: 'donor_blank', severity: 'error', says: nothingThere },
  { case: 'donor_holds_another', severity: 'error', says: holdsAnother },
  {
    case: 'donor_swapped',
    severity: 'error',
    says: ({ swapped }) =>
      swapped && {
        message: `The donor's chip holds the patient's image with the bytes of ${swapped === 2 ? 'each pair' : 'every four'} in the opposite order.`,
        help: `Find out which order is the chip's, write again and read back. ${keepOff}`,
      },
  },
  {
    case: 'donor_larger',
    severity: 'warning',
    says: ({ longer, blocks, patient, donor }) =>
      longer === 'second' && blocks.length === 0
        ? {
            message: `The donor's chip holds ${binarySize(donor.bytes)}, and the patient's image, ${binarySize(patient.bytes)}, at its beginning.`,
            help: 'Whether the board takes a larger chip than its own has to be looked up.',
          }
        : undefined,
  },
  {
    case: 'donor_smaller',
    severity: 'error',
    says: ({ longer, patient, donor }) =>
      longer === 'first'
        ? {
            message: `What was read from the donor's chip holds ${binarySize(donor.bytes)}, but the patient's image ${binarySize(patient.bytes)}.`,
            help: `Read all of the chip. Where it is smaller than the image, move the patient's own chip. ${keepOff}`,
          }
        : undefined,
  },
  { case: 'donor_differs', severity: 'error', says: differs },
];

/** What is on the donor's chip now, in one remark; none where it was not read. */
export function donorRemarks({ images, donor, drive }: ImagesFacts): readonly Remark[] {
  if (!images.read1 || !images.donorNow) return [];
  if (donor) return firstRemark(cases, { ...donor, patient: images.read1, donor: images.donorNow, drive });
  const message = "What is on the donor's chip was not compared: it takes two reads of the patient's chip that agree.";
  return [{ case: 'donor_not_compared', severity: 'warning', message }];
}

function nothingThere({ donor: { fill, bytes } }: DonorImage): Said | undefined {
  if (bytes === 0) return { message: "What was read from the donor's chip holds no bytes at all.", help: keepOff };
  if (fill === undefined) return undefined;
  return {
    message: `The donor's chip holds nothing but ${fillInWords(fill)}: nothing was written, or it was not reached.`,
    help: keepOff,
  };
}

/** An image that a base records for other drives alone. */
function holdsAnother({ donor, drive }: DonorImage): Said | undefined {
  const others = donor.recordedFor.filter((id) => id !== drive?.id);
  if (others.length === 0 || others.length < donor.recordedFor.length) return undefined;
  return {
    message: `The donor's chip holds the image recorded for ${inARow(others)}, not the patient's.`,
    help: keepOff,
  };
}

/** Boards of one family hold the same code, so that few blocks differ where a chip still holds its own. */
function differs({ blocks, patient, donor }: DonorImage): Said {
  const all = Math.max(patient.blocks.length, donor.blocks.length);
  const isMost = blocks.length * 2 > patient.blocks.filter(({ fill }) => fill === undefined).length;
  const rest = isMost
    ? 'it still holds its own image, or another one'
    : "it holds its own, or the patient's did not arrive whole";
  return {
    message: `The donor's chip differs from the patient's image in ${blocks.length} of ${all} blocks: ${rest}.`,
    help: `Keep what is on it now, write the image, and read back. ${keepOff}`,
  };
}
