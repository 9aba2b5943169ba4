/** Where a command prints and what it knows of its surroundings. */
export interface Terminal {
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  /** Absolute working folder. */
  readonly cwd: string;
  /** Columns to fill; 80 where output goes to no terminal. */
  readonly columns: number;
  readonly hasColour: boolean;
}

type Style = 'bold' | 'red' | 'yellow' | 'blue' | 'dim';

const codes: Readonly<Record<Style, readonly [number, number]>> = {
  bold: [1, 22],
  red: [31, 39],
  yellow: [33, 39],
  blue: [34, 39],
  dim: [2, 22],
};

/** The text in a style, where the terminal shows colours. */
export function styled(terminal: Terminal, style: Style, text: string): string {
  const [on, off] = codes[style];
  return terminal.hasColour ? `\u001b[${on}m${text}\u001b[${off}m` : text;
}

/**
 * Text from files made safe to print: control characters, which could move the cursor or recolour the screen, and marks that turn the
 * direction of writing become visible escapes.
 */
export function visible(text: string): string {
  return text.replace(/[\p{Cc}\p{Zl}\p{Zp}\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu, (character) =>
    character === '\n' ? '\n' : `\\u${(character.codePointAt(0) ?? 0).toString(16).padStart(4, '0')}`,
  );
}
