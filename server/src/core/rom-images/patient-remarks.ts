import { binarySize } from '../text/binary-size.ts';
import { inARow } from '../text/in-a-row.ts';
import { plural } from '../text/plural.ts';
import { fillInWords } from './fill-in-words.ts';
import { readIdentification } from './identification.ts';
import { type ImageCase, type Remark, remarksOf, type Said } from './image-case.ts';
import type { ImageFacts, ImagesFacts } from './images-facts.ts';

/** The patient's image and how to speak of it: two reads that agree, or the only one. */
interface PatientImage {
  readonly image: ImageFacts;
  /** `The read holds` or `Both reads hold`. */
  readonly holds: string;
  /** `The read is` or `Both reads are`. */
  readonly is: string;
  readonly facts: ImagesFacts;
}

const isLikeOneThing = ({ fill, pattern, bytes }: ImageFacts): boolean =>
  bytes === 0 || fill !== undefined || pattern !== undefined;

const sizeHelp = "Look up the size that belongs to the chip's marking, and read all of it.";

/** What can speak against writing the patient's image. */
const casesAgainst: readonly ImageCase<PatientImage>[] = [
  {
    case: 'empty',
    severity: 'error',
    says: ({ image, holds }) =>
      image.bytes === 0
        ? { message: `${holds} no bytes at all: there is nothing to write.`, help: 'Read the chip again.' }
        : undefined,
  },
  {
    case: 'blank',
    severity: 'error',
    says: ({ image, holds }) =>
      image.fill === undefined
        ? undefined
        : {
            message: `${holds} nothing but ${fillInWords(image.fill)}: there is nothing to write.`,
            help: 'A chip that was not reached reads as blank, too. Check clip, supply voltage and chip select, and read again.',
          },
  },
  { case: 'one_pattern', severity: 'error', says: onePattern },
  {
    case: 'repeated',
    severity: 'error',
    says: ({ image: { repeats, pattern }, holds }) =>
      repeats === undefined || pattern !== undefined
        ? undefined
        : {
            message: `${holds} the same ${binarySize(repeats.bytes)} ${repeats.times} times: the chip was read as larger than it is, or an address line is stuck.`,
            help: "Look up the size that belongs to the chip's marking. Where it is all of what was read, part of the content is missing: read again.",
          },
  },
  {
    case: 'size_of_no_chip',
    severity: 'error',
    says: ({ image, holds }) =>
      image.size === 'odd'
        ? {
            message: `${holds} ${binarySize(image.bytes)}, which is the size of no chip: something is missing, or something was added.`,
            help: sizeHelp,
          }
        : undefined,
  },
  {
    case: 'size_of_another_chip',
    severity: 'error',
    says: ({ image, holds, facts: { drive } }) =>
      drive?.chip?.bytes === undefined || drive.chip.bytes === image.bytes || image.bytes === 0
        ? undefined
        : {
            message: `${holds} ${binarySize(image.bytes)}, but the ROM of the board of \`${drive.id}\` is recorded with ${binarySize(drive.chip.bytes)}.`,
            help: `${sizeHelp} Where the record is wrong, correct it.`,
          },
  },
  { case: 'parameter_table', severity: 'error', says: parameterTable },
  {
    case: 'image_of_another_drive',
    severity: 'error',
    says: ({ image, is, facts: { drive } }) => {
      if (!drive || image.recordedFor.length === 0 || image.recordedFor.includes(drive.id)) return undefined;
      return {
        message: `${is} the image recorded for ${inARow(image.recordedFor)}, not one of \`${drive.id}\`.`,
        help: 'Find out which chip was read, or which of the records is wrong, before anything is written.',
      };
    },
  },
  {
    case: 'not_the_recorded_image',
    severity: 'error',
    says: ({ image, is, facts: { drive } }) => {
      if (drive?.sha256 === undefined || drive.sha256 === image.sha256) return undefined;
      return {
        message: `${is} not the image recorded for \`${drive.id}\`: the sums differ.`,
        help: 'Compare with the image that was kept. Where the chip was written since, the kept one is the original.',
      };
    },
  },
  {
    case: 'single_read',
    severity: 'error',
    says: ({ image, facts }) =>
      facts.reads || facts.donor?.isEqual || isConfirmed(facts) || isLikeOneThing(image)
        ? undefined
        : {
            message: `One read of ${binarySize(image.bytes)} proves nothing: read the chip again and compare before writing anything.`,
            help: 'Take the clip off and seat it anew between the two reads.',
          },
  },
];

/** What is to be said of the patient's image where nothing speaks against it. */
const goodCases: readonly ImageCase<PatientImage>[] = [
  {
    case: 'agree',
    severity: 'info',
    says: ({ image, facts: { reads } }) => {
      if (!reads || image.bytes === 0 || image.fill !== undefined) return undefined;
      const blank = image.blocks.filter(({ fill }) => fill !== undefined).length;
      const rest = `; ${blank} of ${plural(image.blocks.length, 'block')} ${blank === 1 ? 'is' : 'are'} blank, the others are not`;
      return {
        message: `Both reads agree and hold ${binarySize(image.bytes)}${blank === 0 ? ' that is not blank' : rest}.`,
      };
    },
  },
  {
    case: 'as_recorded',
    severity: 'info',
    says: ({ is, facts }) =>
      isConfirmed(facts) ? { message: `${is} the image recorded for \`${facts.drive?.id}\`.` } : undefined,
  },
  {
    case: 'recorded_image',
    severity: 'info',
    says: ({ image, is, facts: { drive } }) =>
      drive || image.recordedFor.length === 0
        ? undefined
        : { message: `${is} the image recorded for ${inARow(image.recordedFor)}.` },
  },
  {
    case: 'written_from_one_read',
    severity: 'warning',
    says: ({ facts }) =>
      facts.reads || !facts.donor?.isEqual || isConfirmed(facts)
        ? undefined
        : {
            message: "What was written rests on one read of the patient's chip.",
            help: 'Read the original chip a second time and compare, while it is still at hand.',
          },
  },
  {
    case: 'unusual_size',
    severity: 'warning',
    says: ({ image, holds }) =>
      image.size === 'unusual'
        ? {
            message: `${holds} ${binarySize(image.bytes)}; the ROM of a drive has 64 KiB to 16 MiB as a rule.`,
            help: sizeHelp,
          }
        : undefined,
  },
  {
    case: 'paged_size',
    severity: 'info',
    says: ({ image, holds }) =>
      image.size === 'paged'
        ? { message: `${holds} ${binarySize(image.bytes)}, as chips have whose pages are of 264 or 528 bytes.` }
        : undefined,
  },
  {
    case: 'begins_as_table',
    severity: 'warning',
    says: ({ image, holds }) =>
      image.parameterTable === undefined || isTableByItself(image)
        ? undefined
        : {
            message: `${holds} the letters \`SFDP\` at the beginning, as a flash parameter table does.`,
            help: 'It is one only where the chip was read with command 5Ah. Make sure that the content was read, with 03h or 0Bh.',
          },
  },
];

/** What there is to say of the patient's image, against it and else; nothing where the reads differ, so that there is none. */
export function patientRemarks(facts: ImagesFacts): Readonly<Record<'against' | 'good', readonly Remark[]>> {
  const image = facts.images.read1;
  if (!image || facts.reads?.isEqual === false) return { against: [], good: [] };
  const [holds, is] = facts.reads ? ['Both reads hold', 'Both reads are'] : ['The read holds', 'The read is'];
  const patient = { image, holds, is, facts };
  return { against: remarksOf(casesAgainst, patient), good: remarksOf(goodCases, patient) };
}

/** Whether the base vouches for the image. */
function isConfirmed({ images: { read1 }, drive }: ImagesFacts): boolean {
  return drive?.sha256 !== undefined && drive.sha256 === read1?.sha256;
}

/** A table that is all there is. Source: 256 bytes to a few KiB in flash data sheets; a ROM of a drive is larger. */
function isTableByItself({ parameterTable: table, bytes }: ImageFacts): boolean {
  return table !== undefined && bytes < 65_536;
}

function parameterTable({ image, is }: PatientImage): Said | undefined {
  if (!image.parameterTable || !isTableByItself(image)) return undefined;
  const { major, minor } = image.parameterTable;
  return {
    message: `${is} a flash parameter table (SFDP ${major}.${minor}) if the chip was read with command 5Ah, and not its content.`,
    help: 'Read the content, with command 03h or 0Bh. An image that begins with these letters and was read so is content all the same.',
  };
}

function onePattern({ image: { pattern }, holds }: PatientImage): Said | undefined {
  if (!pattern) return undefined;
  const shown = pattern.map((byte) => byte.toString(16).toUpperCase().padStart(2, '0')).join(' ');
  const id = readIdentification(pattern);
  const like = id ? ', which is what a chip says that is asked for its identification (9Fh)' : '';
  return {
    message: `${holds} nothing but \`${shown}\`, over and over${like}: there is nothing to write.`,
    help: 'Name the chip to the programmer by its marking, and read its content.',
  };
}
