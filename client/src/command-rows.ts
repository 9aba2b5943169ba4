/** The commands of the extension: what each is named below `swaplore.`, and how the palette calls it. */
export const commandRows = [
  { name: 'readAgain', title: 'Read the Base Again' },
  { name: 'showLog', title: 'Show Log' },
] as const;

/** The name of a command, below `swaplore.`. */
export type CommandName = (typeof commandRows)[number]['name'];
