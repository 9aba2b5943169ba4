import type { BoardRevisionsRomsData } from '../../../../schemas/gen/records.ts';

/** Of a revision's ROMs the one that holds adaptives, else the only one; undefined where that cannot be told. */
export function romWithAdaptives(roms: readonly BoardRevisionsRomsData[] = []): BoardRevisionsRomsData | undefined {
  const withAdaptives = roms.filter((rom) => rom.holds?.includes('adaptives'));
  const [rom, ...others] = withAdaptives.length > 0 ? withAdaptives : roms;
  return others.length > 0 ? undefined : rom;
}
