/** What to mind before a ROM is written, or a board with another drive's is tried. Source: common practice, no source. */
export const romCautions = {
  adaptives:
    "A board that carries another drive's adaptives may write to the service area. Where the data is wanted, never try the donor's board with its own ROM first.",
  twoReads:
    'Read the ROM twice and compare before writing anything, check its supply voltage (1.8 V or 3.3 V) before clipping on, and keep the original chip and both images.',
  serials:
    'An image of a ROM may hold the serial number of its drive. Keep it out of a shared repository unless the shop decided otherwise; its checksum says as well which image is meant.',
} as const;
