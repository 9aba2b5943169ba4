/** Why revisions cannot be read, in a sentence, for the person who named them. */
export class GitTrouble extends Error {
  constructor(
    message: string,
    readonly help?: string,
  ) {
    super(message);
  }
}
