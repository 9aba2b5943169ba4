import { romWords } from '../features/rom-words.ts';
import type { FamilyRecord } from '../model/record.ts';
import type { FamilyRate } from '../odds/family-rates.ts';
import type { Figure } from './document.ts';
import { forestPlot, type PlotGroup, type PlotRow } from './forest-plot.ts';

/** The rates of one family as a plot; at least one row. */
export function familyPlot(family: FamilyRecord, rows: readonly FamilyRate[]): Figure {
  return forestPlot({ caption, groups: [{ name: undefined, rows: toPlotRows(family, rows) }] });
}

/** The rates of several families as a plot; at least one row. */
export function familiesPlot(
  families: readonly { readonly family: FamilyRecord; readonly rows: readonly FamilyRate[] }[],
): Figure {
  const groups = families.map(({ family, rows }): PlotGroup => ({ name: family.id, rows: toPlotRows(family, rows) }));
  return forestPlot({ caption, groups });
}

const caption = 'Share of pairs that worked, with what is known of the true rate';

function toPlotRows(family: FamilyRecord, rows: readonly FamilyRate[]): PlotRow[] {
  return rows.map(({ romTravels, count, exact, pooled }) => {
    const isAll = romTravels === undefined && rows.length > 1;
    const name = isAll ? 'All swaps' : romWords(family, romTravels) || 'On the platters';
    return { name, pairs: count.pairs, votes: count.votes, exact, pooled };
  });
}
