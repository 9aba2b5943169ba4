import { formatDate } from '../../../server/src/core/terms/calendar.ts';
import { dateOf } from './manufacture.ts';
import type { Random } from './random.ts';
import type { Moment, RecordWriter } from './record-writer.ts';

/** Last day a generated record names. Every outcome lies before it, so that a state recorded on it is the present one. */
const lastDay = dateOf(2025, 6, 30);

/** A day in the last weeks of the records. */
export function recentDay(random: Random): Moment {
  return { moment: formatDate(lastDay - random.integer(0, 50)) };
}

const titles = ['Product manual', 'Service notes', 'Data sheet', 'Talk at the repairers’ evening', 'Price list'];

/** One or two sources: a page, or a paper in the shop. */
export function writeSources(random: Random, writer: RecordWriter): void {
  const isPage = random.chance(0.5);
  writer.list('sources', [
    (inner) => {
      inner.key('title', `${random.pick(titles)}, issue ${random.pick(['A', 'B', 'C', 'D'])}`);
      inner.key(
        'url',
        isPage ? `https://manuals.example/${random.integer(100, 999)}.pdf` : `binder ${random.integer(2, 9)}`,
      );
      inner.key('seen', recentDay(random));
    },
  ]);
}
