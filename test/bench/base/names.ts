import { at } from './random.ts';

/** Letters and digits of part numbers, without those that are taken for one another. */
export const markingLetters = 'ABCDEFGHJKLMNPQRSTUVWXYZ';
export const markingDigits = '23456789';

const makerHeads = ['North', 'Wran', 'Tide', 'Mill', 'Oster', 'Kell', 'Brae', 'Hald', 'Lind', 'Varn'];
const makerTails = ['mere', 'holm', 'wick', 'garth'];
const companies = ['Storage', 'Magnetics', 'Peripherals', 'Disk Works'];

const familyWords = [
  ...['Tern', 'Dunlin', 'Plover', 'Curlew', 'Knot', 'Ruff', 'Smew', 'Teal', 'Gadwall', 'Scoter'],
  ...['Samphire', 'Marram', 'Tansy', 'Yarrow', 'Sorrel', 'Bracken', 'Heather', 'Gorse', 'Sedge', 'Fescue'],
  ...['Granite', 'Basalt', 'Gneiss', 'Slate', 'Marl', 'Chert', 'Tuff', 'Schist', 'Flint', 'Shale'],
  ...['Squall', 'Drizzle', 'Rime', 'Hoar', 'Zephyr', 'Thaw', 'Gale', 'Sleet', 'Haar', 'Breeze'],
];

/** Name of a maker; different for each of the first 40. Invented. */
export function makerName(position: number): string {
  const head = at(makerHeads, position % makerHeads.length);
  const tail = at(makerTails, Math.floor(position / makerHeads.length) % makerTails.length);
  return `${head}${tail} ${at(companies, position % companies.length)}`;
}

/** Name of a family; different for each position. Invented. */
export function familyName(position: number): string {
  const generation = 1 + Math.floor(position / familyWords.length);
  return `${at(familyWords, position % familyWords.length)} ${generation}`;
}

/** Three letters that begin the model names of a family and of no other; enough for 13,824 families. */
export function modelPrefix(position: number): string {
  const { length } = markingLetters;
  return [Math.floor(position / length / length), Math.floor(position / length), position]
    .map((digit) => at([...markingLetters], digit % length))
    .join('');
}

/** A name as an id: lower-case words joined by hyphens. */
export function toId(name: string): string {
  return name.toLowerCase().replace(/[^a-z0-9]+/g, '-');
}
