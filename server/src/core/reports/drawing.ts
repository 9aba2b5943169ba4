/**
 * A drawing as marks on a sheet: lines, bars and labels, in units of its own. What a mark means says its tone, and each page gives tones
 * their colours. No two tones lie in one place of a drawing, so that nobody needs to tell their colours apart.
 */
export interface Drawing {
  readonly width: number;
  readonly height: number;
  readonly marks: readonly Mark[];
}

/** What a mark is: a `value` that is shown, an `alarm` about one, or a `scale` to read values by. */
type Tone = 'value' | 'alarm' | 'scale';

/** A part of a drawing. `x` grows to the right, `y` downwards. */
export type Mark =
  /** `x` and `y` are its corner at the upper left. */
  | {
      readonly shape: 'bar';
      readonly tone: Tone;
      readonly x: number;
      readonly y: number;
      readonly width: number;
      readonly height: number;
    }
  | {
      readonly shape: 'line';
      readonly tone: Tone;
      /** How it is drawn; whole where nothing is said. */
      readonly stroke?: 'dashed' | 'dotted' | undefined;
      readonly from: readonly [x: number, y: number];
      readonly to: readonly [x: number, y: number];
    }
  /** Words that end, begin or have their middle at `x`, on a line at `y`. */
  | {
      readonly shape: 'label';
      readonly x: number;
      readonly y: number;
      readonly anchor: 'start' | 'middle' | 'end';
      readonly text: string;
    };
