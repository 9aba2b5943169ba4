/** Commands of the extension that need no server: what each is named, and how the palette calls it. */
export const clientCommandRows = [
  { id: 'swaplore.createBase', title: 'Create a Knowledge Base' },
  { id: 'swaplore.showLog', title: 'Show Log' },
] as const;

/** The name of a command. */
export type ClientCommandId = (typeof clientCommandRows)[number]['id'];

/** The key by which the palette knows that a server runs, and offers the server's commands. */
export const servingKey = 'swaplore.isServing';
