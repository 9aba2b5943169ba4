/** How a run ended, for scripts. */
export const exitCodes = {
  /** Nothing at error level. */
  clean: 0,
  /** At least one finding at error level, or more warnings than were allowed. */
  findings: 1,
  /** It could not run: usage, no base, an unreadable base, or a name that is not known. */
  couldNotRun: 2,
  /** Our own failure. */
  failed: 3,
} as const;

/** A reason why a command cannot run, for the person who typed it. */
export class UsageError extends Error {
  constructor(
    message: string,
    readonly help?: string,
  ) {
    super(message);
  }
}
