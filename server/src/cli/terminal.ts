import { visible } from '../core/text/visible.ts';

/** Where a command prints and what it knows of its surroundings. */
export interface Terminal {
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  /** Absolute working folder. */
  readonly cwd: string;
  /** Columns to fill; 80 where output goes to no terminal. */
  readonly columns: number;
  readonly hasColour: boolean;
  /** Whether somebody can be asked; nobody where it is absent. */
  readonly canAsk?: boolean;
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

/** Data as JSON. What could act on a terminal is written as an escape, which means the same in JSON. */
export function toJsonText(data: unknown): string {
  return `${JSON.stringify(data, undefined, 2).split('\n').map(visible).join('\n')}\n`;
}
