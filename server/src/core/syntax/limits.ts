/**
 * What a file of this format never needs. Source: measured on the `yaml` package, which takes seconds and hundreds of megabytes on
 * larger flow lists and overflows the stack at a nesting depth of about 1,000.
 */
export const limits = {
  /** Bytes of a YAML file. */
  fileBytes: 1_000_000,
  /** Maps and lists inside one another. */
  depth: 64,
  /** Uses of aliases in one file. */
  aliases: 1_000,
  /** Values in one document that stand there by alias only, aliases of aliases written out. */
  repeatedValues: 20_000,
} as const;
