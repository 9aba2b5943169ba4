import { findRevision } from '../conditions/swap.ts';
import { findKeyRow } from '../schema/key-rows.ts';
import { formatDate } from '../terms/calendar.ts';
import { fitsPattern } from '../text/fits-pattern.ts';
import { quotedList } from '../text/quoted-list.ts';
import type { Answer } from './answers.ts';
import type { Bench } from './bench.ts';
import type { Choice } from './question.ts';
import type { Step } from './step.ts';

/** How a drive is recorded: what is at hand, the label, the board, the examination, and where it goes. */
export const driveSteps: readonly Step[] = [
  { name: 'parts', asks: 'What is at hand?', usual: () => 'both' },
  label({ name: 'model', asks: 'Which model name is printed on it?' }),
  { name: 'family', asks: 'Which family does it belong to?', usual: familyOfModel },
  label({ name: 'part_number', asks: 'Which part number does the label give?' }),
  label({ name: 'serial', asks: 'Which serial number does the label give?' }),
  label({ name: 'firmware', asks: 'Which firmware does the label give?' }),
  label({ name: 'made', asks: 'When was it made?' }),
  label({ name: 'date_code', asks: 'How is its date code printed?' }),
  label({ name: 'site', asks: 'Which site code does the label give?' }),
  label({ name: 'country', asks: 'Which country does the label give?' }),
  label({ name: 'capacity_gb', asks: 'How many gigabytes does the label promise?', usual: onlyCapacity }),
  label({ name: 'wwn', asks: 'Which world-wide name does the label give?' }),
  label({ name: 'head_stack_code', asks: 'Which head stack code does the label give?' }),
  {
    ...label({ name: 'board.id', asks: 'Which board is it?' }),
    isAsked: hasBoard,
    choices: boardsOfFamily,
  },
  {
    ...label({ name: 'board.rev', asks: 'Which revision of it?' }),
    isAsked: (bench) => hasBoard(bench) && bench.text('board.id') !== undefined,
    choices: revisions,
  },
  { ...label({ name: 'board.sticker', asks: 'What does the sticker on the board say?' }), isAsked: hasBoard },
  {
    name: 'board.controller',
    asks: 'Which marking has the main controller?',
    isAsked: hasBoard,
    adds: ofRevision('controller'),
  },
  {
    name: 'board.motor_driver',
    asks: 'Which marking has the motor driver?',
    isAsked: hasBoard,
    adds: ofRevision('motor_driver'),
  },
  { name: 'examined.0.on', asks: 'On which day was it examined?' },
  ...examination([
    ['supply_5v', 'How does the 5 V line measure?', hasBoard],
    ['supply_12v', 'How does the 12 V line measure?', hasBoard],
    ['motor_windings', 'How do the motor windings measure?', hasPlatters],
    ['head_lines', 'How do the lines to the heads measure?', hasPlatters],
    ['contacts', 'How do the contacts look?', always],
    ['parts_burnt', 'Is any part burnt?', hasBoard],
  ]),
  { name: 'condition.board', asks: 'In which state is the board?', isAsked: hasBoard },
  { name: 'condition.media', asks: 'In which state are heads and platters?', isAsked: hasPlatters },
  {
    name: 'condition.as_of',
    asks: 'As of which day?',
    isAsked: (bench) => ['board', 'media'].some((part) => bench.text(`condition.${part}`) !== undefined),
    usual: ({ today }) => formatDate(today),
  },
  { name: 'data', asks: 'Does anybody want the data on it?', isAsked: hasPlatters },
  { name: 'shelf.place', asks: 'Where does it lie?' },
  { name: 'shelf.spare', asks: 'May it be used as a donor?' },
  { name: 'notes', asks: 'Is there anything else to know?' },
];

/** A step whose value the maker's label gives, under a name of the maker's own. */
function label(step: Step): Step {
  return { ...step, adds: (bench) => printedAs(step.name, bench) };
}

/** What this maker's label calls a key. */
function printedAs(name: string, bench: Bench): string | undefined {
  const maker = bench.makerOf(bench.familyNamed(bench.text('family')));
  const key = findKeyRow('drive', name.split('.'))?.comparableAs ?? name;
  const entry = maker?.data.label?.find((row) => row.key === key);
  if (entry?.printed_as === undefined) return undefined;
  const meaning = entry.meaning === undefined ? '' : ` ${entry.meaning}`;
  return `${maker?.data.name ?? 'This maker'} prints it as \`${entry.printed_as}\`.${meaning}`;
}

/** Measurements of the examination; asked for where there was one. */
function examination(
  rows: readonly (readonly [key: string, asks: string, isThere: (bench: Bench) => boolean])[],
): readonly Step[] {
  return rows.map(([key, asks, isThere]) => ({
    name: `examined.0.${key}`,
    asks,
    isAsked: (bench) => bench.text('examined.0.on') !== undefined && isThere(bench),
  }));
}

function always(): boolean {
  return true;
}

function hasBoard(bench: Bench): boolean {
  return bench.text('parts') !== 'hda_only';
}

function hasPlatters(bench: Bench): boolean {
  return bench.text('parts') !== 'board_only';
}

/** The only family whose patterns cover the model. */
function familyOfModel(bench: Bench): Answer | undefined {
  const model = bench.text('model');
  if (model === undefined) return undefined;
  const [first, ...others] = bench.snapshot
    .records('family')
    .filter(({ data }) => data.models?.some((pattern) => fitsPattern(model, pattern)));
  return others.length === 0 ? first?.id : undefined;
}

function onlyCapacity(bench: Bench): Answer | undefined {
  const capacities = bench.familyNamed(bench.text('family'))?.data.capacities_gb ?? [];
  return capacities.length === 1 ? capacities[0] : undefined;
}

/** The boards recorded for the family first, then all others. */
function boardsOfFamily(bench: Bench): readonly Choice[] {
  const family = bench.text('family') ?? '';
  const fits = (families: readonly string[] = []): number => (families.includes(family) ? 0 : 1);
  return bench.snapshot
    .records('board')
    .toSorted((a, b) => fits(a.data.families) - fits(b.data.families))
    .map(({ id, data }) => ({ value: id, detail: data.part_number ?? '' }));
}

/** The revisions of the board that was chosen. */
function revisions(bench: Bench): readonly Choice[] {
  const board = bench.snapshot.find('board', bench.text('board.id'));
  return (board?.data.revisions ?? []).flatMap(({ rev, controller }) =>
    rev === undefined ? [] : [{ value: rev, detail: markings(controller) }],
  );
}

/** What the revision is recorded with, which need not be recorded again. */
function ofRevision(key: 'controller' | 'motor_driver'): (bench: Bench) => string | undefined {
  return (bench) => {
    const board = bench.snapshot.find('board', bench.text('board.id'));
    const known = markings(findRevision(board, bench.text('board.rev'))?.[key]);
    return known === '' ? undefined : `Its revision is recorded with ${known}.`;
  };
}

function markings(marking: string | readonly string[] | undefined): string {
  if (marking === undefined) return '';
  return quotedList(typeof marking === 'string' ? [marking] : marking, ' or ');
}
