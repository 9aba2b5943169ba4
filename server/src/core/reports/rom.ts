import type { ImagesComparison } from '../rom-images/compare-images.ts';
import { fillInWords } from '../rom-images/fill-in-words.ts';
import type { Sighting, Spelling } from '../rom-images/find-identity.ts';
import { blockBytes, type Fill } from '../rom-images/image-blocks.ts';
import type { Remark } from '../rom-images/image-case.ts';
import type { BlockDifference, ImageDifferences, Side } from '../rom-images/image-differences.ts';
import { type ImageFacts, type ImageRole, imageRoles } from '../rom-images/images-facts.ts';
import { romCautions } from '../rom-images/rom-cautions.ts';
import { type Severity, severities } from '../terms/severities.ts';
import { binarySize } from '../text/binary-size.ts';
import { hexOffset } from '../text/hex-offset.ts';
import { plural } from '../text/plural.ts';
import { shortName } from '../text/short-name.ts';
import { blockStrip } from './block-strip.ts';
import type { Block, Figure, Item } from './document.ts';
import { section } from './section.ts';

/** Most rows of a table of blocks that differ. */
const mostRows = 20;

/** Images of ROM chips compared, as a document: the verdict first, then what it rests on. */
export function romDocument(comparison: ImagesComparison): readonly Block[] {
  const { drive, reads, donor, remarks, images } = comparison;
  const [verdict, ...others] = remarks;
  return [
    { kind: 'heading', level: 1, text: drive ? `ROM images of \`${drive.id}\`` : 'ROM images' },
    { kind: verdict.severity === 'error' ? 'caution' : 'paragraph', text: verdict.message },
    ...(verdict.help === undefined ? [] : [{ kind: 'paragraph', text: verdict.help } as const]),
    ...section('Also seen', others.length === 0 ? [] : [{ kind: 'items', items: remarkItems(others) }]),
    ...section('The images', [{ kind: 'items', items: presentIn(images).map(imageItem) }]),
    ...section('Where the reads differ', differenceTable(reads, { first: 'read 1', second: 'read 2' })),
    ...section("Where the donor's chip differs", differenceTable(donor, { first: 'the image', second: 'the chip' })),
    ...section('Block by block', strips(comparison)),
    ...section("Where the drive's own numbers stand", sightingBlocks(comparison)),
    ...section('Before anything is written', cautions(comparison)),
  ];
}

const severityNames: Readonly<Record<Severity, string>> = {
  error: 'Not to be passed over',
  warning: 'Worth a look',
  info: 'Good to know',
};

function remarkItems(remarks: readonly Remark[]): readonly Item[] {
  return severities.flatMap((wanted): Item[] => {
    const lines = remarks
      .filter(({ severity }) => severity === wanted)
      .map(({ message, help }) => (help === undefined ? message : `${message} ${help}`));
    return lines.length === 0 ? [] : [{ name: severityNames[wanted], lines }];
  });
}

interface Present {
  readonly role: ImageRole;
  readonly image: ImageFacts;
}

function presentIn(images: ImagesComparison['images']): readonly Present[] {
  return imageRoles.flatMap((role) => {
    const image = images[role];
    return image ? [{ role, image }] : [];
  });
}

const roleNames: Readonly<Record<ImageRole, string>> = {
  read1: 'Read 1',
  read2: 'Read 2',
  donorNow: "Donor's chip",
};

function imageItem({ role, image }: Present): Item {
  const { name, bytes, sha256, blocks } = image;
  const count = (fill: Fill): number => blocks.filter((block) => block.fill === fill).length;
  const blank = (['ff', '00'] as const)
    .filter((fill) => count(fill) > 0)
    .map((fill) => `${count(fill)} all ${fillInWords(fill)}`);
  const rest = blank.length === 0 ? 'none blank' : blank.join(', ');
  return {
    name: `${roleNames[role]}: \`${shortName(name)}\``,
    lines: [`${binarySize(bytes)} in ${plural(blocks.length, 'block')} of 4 KiB, ${rest}.`, `SHA-256 \`${sha256}\``],
  };
}

function differenceTable(
  differences: ImageDifferences | undefined,
  names: Readonly<Record<Side, string>>,
): readonly Block[] {
  if (!differences || differences.blocks.length === 0) return [];
  const { blocks } = differences;
  const left = blocks.length - mostRows;
  return [
    {
      kind: 'table',
      caption: `Blocks that differ between ${names.first} and ${names.second}`,
      columns: [
        { title: 'Block at', align: 'left' },
        { title: 'Bytes', align: 'right' },
        { title: `1 in ${names.first} only`, align: 'right' },
        { title: `1 in ${names.second} only`, align: 'right' },
        { title: 'Blank in', align: 'left' },
      ],
      rows: blocks.slice(0, mostRows).map((block) => differenceRow(block, names)),
    },
    ...(left > 0 ? [{ kind: 'paragraph', text: `${plural(left, 'block')} more.` } as const] : []),
  ];
}

function differenceRow(
  { block, bytes, setIn, blankIn }: BlockDifference,
  names: Readonly<Record<Side, string>>,
): readonly (string | number)[] {
  return [
    hexOffset(block * blockBytes),
    bytes,
    plural(setIn.first, 'bit'),
    plural(setIn.second, 'bit'),
    blankIn === undefined ? '' : names[blankIn],
  ];
}

/** Images with different content: of two that are equal the first, under a name that says so. */
function distinctIn({ images, reads, donor }: ImagesComparison): readonly (Present & { readonly name: string })[] {
  return presentIn(images).flatMap(({ role, image }) => {
    if ((role === 'read2' && reads?.isEqual) || (role === 'donorNow' && donor?.isEqual)) return [];
    return [{ role, image, name: role === 'read1' && reads?.isEqual ? 'Both reads' : roleNames[role] }];
  });
}

function strips(comparison: ImagesComparison): readonly Figure[] {
  const { reads, donor } = comparison;
  return distinctIn(comparison).flatMap(({ role, image: { blocks }, name }): Figure[] => {
    if (blocks.length === 0) return [];
    const differences = role === 'donorNow' ? donor : reads?.isEqual === false ? reads : undefined;
    const differing = new Set(differences?.blocks.map(({ block }) => block));
    return [blockStrip({ name, blocks, differing })];
  });
}

const spellings: Readonly<Record<Spelling, string>> = {
  plain: 'as it is',
  swapped_pairs: 'with the bytes of each pair swapped',
  big_endian: 'in bytes, the first one first',
  little_endian: 'in bytes, the last one first',
  digits: 'in digits',
};

function sightingBlocks(comparison: ImagesComparison): readonly Block[] {
  const { drive } = comparison;
  if (!drive) return [];
  const items = distinctIn(comparison).map(({ image, name }): Item => {
    const lines = [
      ...seenLines('Serial number', 'number' in drive.serial ? drive.serial.shown : '', image.serial),
      ...seenLines('World-wide name', drive.wwn?.digits ?? '', image.wwn),
    ];
    return { name, lines };
  });
  const why = 'missing' in drive.serial ? notSought[drive.serial.missing] : undefined;
  return [
    ...(why === undefined ? [] : [{ kind: 'paragraph', text: `The serial number of \`${drive.id}\` ${why}` } as const]),
    ...(items.some(({ lines }) => lines.length > 0) ? [{ kind: 'items', items } as const] : []),
  ];
}

const notSought = {
  not_recorded: 'is not recorded, so nobody can look for it.',
  masked: 'is recorded masked or as a digest, so nobody can look for it in an image.',
  short: 'is too short to be looked for: it would stand everywhere.',
} as const;

function seenLines(what: string, shown: string, seen: readonly Sighting[] | undefined): string[] {
  if (!seen) return [];
  if (seen.length === 0) return [`${what} \`${shown}\` stands nowhere.`];
  return seen.map(({ spelling, at, count }) => {
    const more = count > at.length ? ` and at ${plural(count - at.length, 'more place')}` : '';
    return `${what} \`${shown}\` ${spellings[spelling]}: ${at.map(hexOffset).join(', ')}${more}.`;
  });
}

function cautions({ drive }: ImagesComparison): readonly Block[] {
  const volts = drive?.chip?.volts;
  const recorded = volts === undefined ? '' : ` The ROM of this board is recorded with ${volts} V.`;
  return [`${romCautions.twoReads}${recorded}`, romCautions.adaptives, romCautions.serials].map((text) => ({
    kind: 'caution',
    text,
  }));
}
