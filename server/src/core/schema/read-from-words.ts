/** Where a value is read, by the name schemas have for it; absent for what a shop makes up itself. */
export const readFromWords: Readonly<Record<string, string>> = {
  label: 'the label',
  board: 'the board',
  host: 'a host',
  rom_image: 'a ROM image',
  inside: 'inside the drive only',
  bench: "the shop's own work",
};
