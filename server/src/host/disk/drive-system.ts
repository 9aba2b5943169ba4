/** A system that shows its drives as Linux does. */
export interface DriveSystem {
  /** Where its file tree begins: the folder of `dev`, `proc`, `run` and `sys`. */
  readonly root: string;
  /** Folders in which programs are looked for, as in the variable `PATH`. */
  readonly path: string;
  readonly isRoot: boolean;
  /** Longest that a program is waited for, in milliseconds. */
  readonly patienceMs: number;
}
