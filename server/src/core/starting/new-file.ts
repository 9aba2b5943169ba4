/** A file to be made: its path below a folder, with `/`, and its whole text. */
export interface NewFile {
  readonly path: string;
  readonly text: string;
}
