/** A serial number as stars with its last four characters; undefined where there is nothing but stars and spaces. */
export function maskedSerial(serial: string): string | undefined {
  const tail = [...serial.replace(/[\s*]+/g, '')].slice(-4).join('');
  return tail === '' ? undefined : `****${tail}`;
}
