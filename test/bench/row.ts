/** What a figure counts: times another one, milliseconds, seconds, megabytes, hundredths, or things. */
export type Unit = '×' | 'ms' | 's' | 'MB' | '%' | '';

/** A figure that is printed: what it is, how it comes of what was measured, and what it should be at most, if anything is aimed for. */
export interface Row<Measured> {
  readonly what: string;
  /** Not a number where it was not measured. */
  readonly value: (measured: Measured) => number;
  readonly unit: Unit;
  readonly most?: number;
}

const digits: Readonly<Record<Unit, number>> = { '×': 2, ms: 1, s: 2, MB: 0, '%': 1, '': 0 };

/** A figure with its unit. */
export function figureText(value: number, unit: Unit): string {
  return Number.isNaN(value) ? '–' : `${value.toFixed(digits[unit])} ${unit}`.trimEnd();
}

/** What is aimed for, as it is typed. */
export function limitText({ most, unit }: Pick<Row<never>, 'most' | 'unit'>): string {
  return most === undefined ? '' : `${most} ${unit}`.trimEnd();
}

/** Whether it is met, or by how much it is missed; empty where nothing is aimed for or nothing was measured. */
export function outcomeText(value: number, most: number | undefined): string {
  if (most === undefined || Number.isNaN(value)) return '';
  if (value <= most) return 'met';
  const times = value / most;
  if (times >= 2) return Number.isFinite(times) ? `missed ${times.toFixed(times < 10 ? 1 : 0)}-fold` : 'missed';
  return `missed by ${Math.ceil(100 * (times - 1))} %`;
}
