import { childrenOf, type Tape } from '../syntax/tape.ts';
import { isFlow } from './entry-spans.ts';
import { columnOf } from './text-lines.ts';

/** The habits of a file, as far as it shows any. */
export interface Layout {
  /** Columns that a map stands further right than the key it belongs to. */
  readonly mapStep: number;
  /** Columns that the dashes of a list stand further right than its key. */
  readonly listStep: number;
  /** Whether maps between braces are written with a space inside these. */
  readonly isPadded: boolean;
}

/** The habits of a file, by the first place that shows each; those of the demo base where none does. */
export function layoutOf(tape: Tape): Layout {
  let mapStep: number | undefined;
  let listStep: number | undefined;
  let isPadded: boolean | undefined;
  for (const [index, { kind, keyStart, start }] of tape.entries.entries()) {
    if (kind !== 'map' && kind !== 'list') continue;
    const [first] = childrenOf(tape, index);
    if (first === undefined) continue;
    if (isFlow(tape, index)) {
      if (kind === 'map') isPadded ??= tape.text.charAt(start + 1) === ' ';
    } else if (keyStart >= 0) {
      const step = columnOf(tape.text, start) - columnOf(tape.text, keyStart);
      if (kind === 'map') mapStep ??= step > 0 ? step : undefined;
      else listStep ??= step >= 0 ? step : undefined;
    }
  }
  return { mapStep: mapStep ?? 2, listStep: listStep ?? 2, isPadded: isPadded ?? true };
}
