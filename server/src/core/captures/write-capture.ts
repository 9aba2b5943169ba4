import type { Capture } from './capture-file.ts';

/**
 * The text of a capture file: JSON, two spaces, a newline at the end. The same capture gives the same text. Control characters are
 * written as JSON allows, so that readers of YAML take the text as well.
 */
export function captureText(capture: Capture): string {
  const json = JSON.stringify(capture, null, 2);
  return `${json.replace(/[\u007f-\u009f\u2028\u2029\ufeff\ufffe\uffff]/g, toEscape)}\n`;
}

function toEscape(character: string): string {
  return `\\u${character.charCodeAt(0).toString(16).padStart(4, '0')}`;
}
