/** Why a row does not go in. */
export interface Refusal {
  /** Number of the row in a spreadsheet. */
  readonly row: number;
  readonly line: number;
  /** Heading of the column at fault; undefined where it is the row as a whole. */
  readonly column?: string | undefined;
  /** What stands in that cell, serial numbers as the base shows them. */
  readonly value?: string | undefined;
  /** `kind/id` of the record the row would have made. */
  readonly record?: string | undefined;
  readonly reason: string;
  readonly help?: string | undefined;
}
