import type { BoardRevisionsRomsData } from '../../../../schemas/gen/records.ts';
import type { StoredIn } from '../conditions/rom-travels.ts';
import type { DonorRanking } from '../donors/rank-donors.ts';
import type { RomPlan } from '../donors/rom-plan.ts';
import { romWithAdaptives } from '../rom-images/rom-with-adaptives.ts';
import { inARow } from '../text/in-a-row.ts';

/** What has to go over with a board, where the key sits, and what a host has to offer. */
export function travelWords({ patient, plan, state }: DonorRanking): string[] {
  const { drive, family, revision } = patient;
  const needs = family?.data.host_needs ?? [];
  const { actions } = plan;
  const isMoved = actions !== undefined && !actions.includes('left');
  const around = [
    ...keyWords(plan, family?.data.encryption !== 'none'),
    ...(actions?.includes('chip_moved') === true ? [chipWords(romWithAdaptives(revision?.roms))] : []),
    ...(isMoved ? [`${drive.data.rom_image ? 'An' : 'No'} image of its ROM is recorded.`] : []),
    ...(needs.length === 0 ? [] : [`The host has to meet ${inARow(needs)}.`]),
  ];
  return [
    ...(state.holdsUserData
      ? ['Its own board holds data of its user besides the platters: repair that board, do not replace it.']
      : []),
    [
      adaptivesWords(plan.storedIn, drive.data.family),
      ...(drive.data.parts === 'hda_only' && !actions?.includes('left') ? [boardGone(actions !== undefined)] : []),
      ...(isMoved ? [`What follows takes it that this is done: \`rom: [${actions.join(', ')}]\`.`] : []),
    ].join(' '),
    ...(around.length === 0 ? [] : [around.join(' ')]),
  ];
}

function adaptivesWords(storedIn: StoredIn | undefined, family: string | undefined): string {
  switch (storedIn) {
    case 'rom_chip':
      return "Adaptives: in the ROM chip. Move the patient's chip to the donor's board, or write its image to the donor's chip.";
    case 'controller':
      return "Adaptives: in the controller. Move the patient's controller to the donor's board, or write its data to the donor's.";
    case 'platters':
      return 'Adaptives: on the platters. Nothing has to travel for them.';
    case undefined:
      return `Where family \`${family ?? 'not recorded'}\` keeps its adaptives is not recorded, so what has to travel is not known.`;
  }
}

function boardGone(isImageKept: boolean): string {
  return isImageKept
    ? 'Its own board is not there, so what is left is to write the image that was kept.'
    : 'Its own board is not there, and no image of its ROM is recorded, so nothing is known that could travel.';
}

function keyWords({ key }: RomPlan, mayEncrypt: boolean): string[] {
  if (!key) return mayEncrypt ? [] : ['Encryption: none, so no key has to travel.'];
  const data = key.isCertain ? 'The data is encrypted' : 'The data may be encrypted';
  switch (key.in) {
    case 'platters':
      return [`${data}. The key sits on the platters and stays there.`];
    case undefined:
      return [`${data}, and where the key sits is not recorded. Without it all that is read is noise.`];
    case 'bridge':
    case 'controller':
    case 'rom_chip':
      return [`${data}. The key sits in the ${holders[key.in]}: without that very part all that is read is noise.`];
  }
}

const holders = { bridge: 'bridge', controller: 'controller', rom_chip: 'ROM chip' } as const;

function chipWords(chip: BoardRevisionsRomsData | undefined): string {
  return chip ? `Its ROM: ${chipName(chip)}.` : 'Package and supply voltage of its ROM are not recorded.';
}

/** Package and voltage of a chip: "`soic8_150mil`, 3.3 V". */
export function chipName({ package: type, volts }: BoardRevisionsRomsData): string {
  const voltage = volts === undefined ? 'voltage not recorded' : `${volts} V`;
  return `${type === undefined ? 'package not recorded' : `\`${type}\``}, ${voltage}`;
}
