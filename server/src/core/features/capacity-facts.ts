import { idemaSectors } from '../terms/capacity.ts';
import { byteSize } from '../text/byte-size.ts';
import { inThousands } from '../text/in-thousands.ts';
import { contextOf } from '../verdicts/drive-context.ts';
import type { HoverFact } from './hover-blocks.ts';
import type { HoverContext } from './hover-context.ts';

/** Logical sectors of drives as sold; the first is meant where nothing is recorded. */
const sectorSizes = [512, 4096] as const;

/** What a size is in other units: the usual number of sectors, the bytes of a number of sectors, the bits of a chip. */
export function capacityFacts(context: HoverContext): readonly HoverFact[] {
  const { row, entry } = context;
  const value = Number(entry.text);
  if (entry.text === '' || !(value > 0) || !Number.isFinite(value)) return [];
  switch (row.name) {
    case 'capacity_gb':
    case 'capacities_gb':
      return nominalFacts(value, sectorBytesAt(context));
    case 'lba_count':
      return countFacts(value, sectorBytesAt(context), nominalAt(context));
    case 'bytes':
      return context.node === 'board' ? chipFacts(value) : [{ label: 'Size', text: [byteSize(value)] }];
    default:
      return [];
  }
}

/** Logical sector size of the family; both common sizes where it is not recorded. */
function sectorBytesAt({ record, file }: HoverContext): readonly number[] {
  const family = record?.kind === 'drive' ? contextOf(record, file.snapshot).family : record;
  const logical = family?.kind === 'family' ? family.data.sector_bytes?.logical : undefined;
  return logical === undefined ? sectorSizes : [logical];
}

function nominalAt({ record }: HoverContext): number | undefined {
  return record?.kind === 'drive' ? record.data.capacity_gb : undefined;
}

function nominalFacts(nominalGb: number, sizes: readonly number[]): readonly HoverFact[] {
  return sizes.flatMap((size) => {
    const sectors = idemaSectors(nominalGb, size);
    if (sectors === undefined) return [];
    return [
      { label: 'Usual size', text: [`${inThousands(sectors)} sectors of ${inThousands(size)} bytes (${formula})`] },
    ];
  });
}

const formula = 'formula of IDEMA LBA1-03';

function countFacts(sectors: number, sizes: readonly number[], nominalGb: number | undefined): readonly HoverFact[] {
  return sizes.flatMap((size): HoverFact[] => {
    const usual = nominalGb === undefined ? undefined : idemaSectors(nominalGb, size);
    const difference = usual === undefined ? undefined : sectors - usual;
    return [
      { label: 'Size', text: [`${byteSize(sectors * size)} in sectors of ${inThousands(size)} bytes`] },
      ...(difference === undefined || sizes.length > 1
        ? []
        : [{ label: `Against ${inThousands(nominalGb ?? 0)} GB`, text: [`${comparison(difference)} (${formula})`] }]),
    ];
  });
}

function comparison(difference: number): string {
  if (difference === 0) return 'just the usual number of sectors';
  const count = `${inThousands(Math.abs(difference))} sectors`;
  return difference > 0 ? `${count} more than usual` : `${count} fewer than usual`;
}

/** Flash chips are marked in megabits of 2²⁰. Source: common practice, no source. */
function chipFacts(bytes: number): readonly HoverFact[] {
  const megabits = (bytes * 8) / 2 ** 20;
  if (bytes % 1024 !== 0) return [];
  const marked = Number.isInteger(megabits) ? `, a chip of ${megabits} Mbit` : '';
  return [{ label: 'Size', text: [`${inThousands(bytes / 1024)} KiB${marked}`] }];
}
