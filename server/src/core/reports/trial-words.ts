import { romTravels } from '../conditions/rom-travels.ts';
import type { Swap } from '../conditions/swap.ts';

/** A swap to be tried, with what is to be done about the ROM. */
export function swapWords({ patient, donor, outcome }: Swap): string {
  const travels = romTravels({ patient, donor, outcome });
  const actions = outcome.data.rom;
  const written = Array.isArray(actions) && actions.length > 1 ? `[${actions.join(', ')}]` : actions;
  const list = written === undefined ? '' : ` (\`rom: ${String(written)}\`)`;
  const rom = travels === undefined ? '' : travels ? ', its own ROM moved along' : ", with that board's ROM";
  const isOnPlatters = patient.family?.data.adaptives?.stored_in === 'platters';
  return `\`${patient.drive.id}\` with the board of \`${donor.drive.id}\`${isOnPlatters ? '' : rom}${list}`;
}
