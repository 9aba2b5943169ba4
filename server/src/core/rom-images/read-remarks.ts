import { binarySize } from '../text/binary-size.ts';
import { hexOffset } from '../text/hex-offset.ts';
import { plural } from '../text/plural.ts';
import { fillInWords } from './fill-in-words.ts';
import { firstRemark, type ImageCase, type Remark, type Said } from './image-case.ts';
import type { ImageDifferences, Side } from './image-differences.ts';
import type { ImageFacts, ImagesFacts } from './images-facts.ts';

/** Two reads of one chip that differ, with the images they are. */
interface DifferentReads extends ImageDifferences {
  readonly images: Readonly<Record<Side, ImageFacts>>;
}

const again = 'read again before writing anything';

/** Ways in which two reads of one chip can differ, the one that explains most first; the last fits always. */
const cases: readonly ImageCase<DifferentReads>[] = [
  { case: 'reads_swapped', severity: 'error', says: ({ swapped }) => swapped && swappedReads(swapped) },
  { case: 'reads_blank', severity: 'error', says: blankReads },
  { case: 'reads_shifted', severity: 'error', says: shiftedReads },
  { case: 'reads_unequal_length', severity: 'error', says: unequalReads },
  { case: 'reads_one_way', severity: 'error', says: oneWayReads },
  { case: 'reads_partly_blank', severity: 'error', says: partlyBlankReads },
  {
    case: 'reads_differ',
    severity: 'error',
    says: (reads) => ({ message: `${differing(reads)}: ${again}.`, help: contactHelp }),
  },
];

/** How two reads differ, in one remark; none where they do not, or there is one. */
export function readRemarks({ images: { read1, read2 }, reads }: ImagesFacts): readonly Remark[] {
  if (!read1 || !read2 || !reads || reads.isEqual) return [];
  return firstRemark(cases, { ...reads, images: { first: read1, second: read2 } });
}

/** Names of the two reads. */
const readNames: Readonly<Record<Side, string>> = { first: 'read 1', second: 'read 2' };

const other: Readonly<Record<Side, Side>> = { first: 'second', second: 'first' };

/** Source: common practice, no source. */
const contactHelp =
  'Clean the contacts, seat the clip anew, check the supply voltage and read more slowly, until two reads in a row agree.';

function differing({ blocks }: DifferentReads): string {
  return `The reads differ in ${plural(blocks.length, 'block')}`;
}

function swappedReads(width: 2 | 4): Said {
  const group = width === 2 ? 'each pair' : 'every four';
  return {
    message: `The reads hold the same bytes, but those of ${group} stand in the opposite order in one of them: find out which order is the chip's before writing anything.`,
    help: 'Read twice with one and the same setting for the order of bytes. Text in the image can be read where the order is right.',
  };
}

function blankReads({ images }: DifferentReads): Said | undefined {
  const blank = (['first', 'second'] as const).flatMap((side) => {
    const { fill } = images[side];
    return fill === undefined ? [] : [{ side, fill }];
  });
  const [one, ...others] = blank;
  if (!one) return undefined;
  const help =
    'Check that the clip sits, that the chip has its supply voltage, and that nothing else on the board holds it in reset.';
  if (others.length > 0) return { message: `Both reads are blank, each in its own way: ${again}.`, help };
  const { side, fill } = one;
  const message = `All of ${readNames[side]} is ${fillInWords(fill)}, but ${readNames[other[side]]} holds something: ${again}.`;
  return { message, help };
}

function shiftedReads({ shift }: DifferentReads): Said | undefined {
  if (!shift) return undefined;
  const { bytes, from, later } = shift;
  const by = bytes === 1 ? '1 byte' : `${bytes} bytes`;
  return {
    message: `From ${hexOffset(from)} on ${readNames[later]} holds what ${readNames[other[later]]} holds ${by} earlier: ${again}.`,
    help: 'Bytes were lost or read twice on the way. Read more slowly, over shorter wires, until two reads in a row agree.',
  };
}

function unequalReads({ longer, blocks, images }: DifferentReads): Said | undefined {
  if (!longer) return undefined;
  const shorter = other[longer];
  const [more, less] = [binarySize(images[longer].bytes), binarySize(images[shorter].bytes)];
  const rest =
    blocks.length === 0 ? 'is the beginning of it' : `differs from its beginning in ${plural(blocks.length, 'block')}`;
  return {
    message: `One read holds ${more}, the other ${less} and ${rest}: ${again}.`,
    help: "Set the size that belongs to the chip's marking, and let the read run to its end.",
  };
}

function partlyBlankReads(reads: DifferentReads): Said | undefined {
  const blank = reads.blocks.filter(({ blankIn }) => blankIn !== undefined).length;
  if (blank === 0) return undefined;
  const which = blank === reads.blocks.length ? '' : `${blank} of which `;
  const verb = blank === 1 ? 'is' : 'are';
  return {
    message: `${differing(reads)}, ${which}${which === '' ? `which ${verb}` : verb} blank in one of them only: ${again}.`,
    help: 'Contact was lost for a while. Seat the clip anew, and read until two reads in a row agree.',
  };
}

/** Bits that all went one way: a line that is too weak, not a content that changes. */
function oneWayReads(reads: DifferentReads): Said | undefined {
  const sum = (side: Side): number => reads.blocks.reduce((total, { setIn }) => total + setIn[side], 0);
  const bits = { first: sum('first'), second: sum('second') };
  const zero = (['first', 'second'] as const).find((side) => bits[side] === 0);
  const bytes = reads.blocks.reduce((total, block) => total + block.bytes, 0);
  // Where more than one bit of a byte is wrong it is not one weak line.
  if (zero === undefined || bits[other[zero]] !== bytes) return undefined;
  const which = bytes === 1 ? 'by a single bit, which is' : `by ${bytes} single bits, all of them`;
  return {
    message: `${differing(reads)}, ${which} 1 in ${readNames[other[zero]]} and 0 in ${readNames[zero]}: ${again}.`,
    help: `Single bits that all go one way hint at a poor contact or at a supply voltage that is off. ${contactHelp}`,
  };
}
