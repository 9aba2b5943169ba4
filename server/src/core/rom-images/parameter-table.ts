/** The beginning of a flash parameter table: the revision of its layout and how many headers follow. */
export interface ParameterTable {
  readonly major: number;
  readonly minor: number;
  readonly headers: number;
}

/** `SFDP`. Source: JEDEC JESD216, as Linux, drivers/mtd/spi-nor/sfdp.c, has it: SFDP_SIGNATURE 0x50444653U, little-endian. */
const signature = [0x53, 0x46, 0x44, 0x50];

/**
 * The head of the flash parameter table an image begins with; undefined where it does not begin so. Only an image that was read with command
 * 5Ah is that table; one that was read as content may begin with these letters by chance.
 * Source of the layout: Linux, drivers/mtd/spi-nor/sfdp.c, struct sfdp_header: signature, minor, major, number of headers less one.
 */
export function readParameterTable(bytes: Uint8Array): ParameterTable | undefined {
  if (signature.some((byte, at) => bytes[at] !== byte)) return undefined;
  const [minor, major, more] = bytes.subarray(4);
  return minor === undefined || major === undefined || more === undefined
    ? undefined
    : { major, minor, headers: more + 1 };
}
