/** The commands of the server: what each is named in the protocol, its title in a list of commands, and what it does. */
export const commandRows = [
  {
    id: 'swaplore.contradictions',
    title: 'Check Outcomes Against Rules',
    describe:
      'Show how the outcomes of a base stand to its rules and to each other, as `swaplore contradictions` prints it.',
  },
  {
    id: 'swaplore.showOdds',
    title: 'Show Odds',
    describe:
      'Show how often swaps worked: of the family whose id is the second argument all that is known of it, else of every family.',
  },
  {
    id: 'swaplore.checkNow',
    title: 'Read and Check Everything Again',
    describe: 'Read every file of the bases again, run every check, and answer with counts.',
  },
] as const;

/** The name of a command. */
export type CommandId = (typeof commandRows)[number]['id'];
