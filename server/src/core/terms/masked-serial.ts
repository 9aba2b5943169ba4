/**
 * Serial numbers in the forms that a base with masked ones accepts.
 * Source: the form of `serial` in schemas/drive.schema.json.
 */

/** Whether a serial number is masked: `****` with 1 to 4 characters, or `digest:` with 16 to 64 hexadecimal digits. */
export function isMaskedSerial(serial: string): boolean {
  return /^\*{4}.{1,4}$|^digest:[0-9a-f]{16,64}$/isu.test(serial.trim());
}

/**
 * The serial number as `****` with its last four characters. Of a number shorter than eight, only half of it is shown, so that it never
 * stands there in full; of one that was masked in part, the tail is shortened. Undefined where there is nothing that could be shown.
 */
export function maskedSerial(serial: string): string | undefined {
  const characters = [...serial.replace(/[\s*]+/g, '')];
  const isTail = serial.trim().startsWith('****');
  const shown = Math.min(4, isTail ? characters.length : Math.floor(characters.length / 2));
  return shown === 0 ? undefined : `****${characters.slice(-shown).join('')}`;
}
