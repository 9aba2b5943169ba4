import fc from 'fast-check';
import type { BoardData, DriveData, FamilyData, MakerData } from '../../schemas/gen/records.ts';
import { arbitraryDriveDetails, arbitraryFamilyDetails } from './arbitrary-details.ts';
import { arbitraryReference, type Ids } from './arbitrary-ids.ts';
import { driveValues, familyValues, hostNeeds, hours, oneOfEach, partValues, revs, storedIn } from './base-values.ts';
import { sparse } from './sparse.ts';

/** The data of a record as it would be typed: `kind` and `id` are there. */
export type Plain<Data extends { readonly kind?: string }> = Data & {
  readonly kind: NonNullable<Data['kind']>;
  readonly id: string;
};

/** Keys that every kind of record may have. */
export const arbitraryExtras = sparse({
  notes: fc.constantFrom('Seen twice.', 'First line.\nSecond: line # with signs.\n', '2012', 'a\n\n  b'),
  'x-shelf': fc.constantFrom<unknown>(4, 'B', [1, { a: 'b' }]),
  sources: fc.constant([{ title: 'Bench book' }]),
});

/** A reason to leave a record out, one time in eight. */
export const arbitraryRetraction = fc.oneof(
  { weight: 7, arbitrary: fc.constant({}) },
  { weight: 1, arbitrary: fc.constant({ retracted: { on: '2026-01-02', because: 'Wrong drive.' } }) },
);

/** Makers say little here: nothing that is computed from them differs. */
export function arbitraryMaker(id: string): fc.Arbitrary<Plain<MakerData>> {
  return arbitraryExtras.map((extras) => ({ kind: 'maker', id, name: id.toUpperCase(), ...extras }));
}

/** Families with or without each fact. */
export function arbitraryFamily(id: string, ids: Ids): fc.Arbitrary<Plain<FamilyData>> {
  const facts = sparse({
    ...oneOfEach(familyValues),
    adaptives: sparse(oneOfEach({ stored_in: storedIn, basis: ['measured', 'hearsay'] as const })),
    host_needs: fc.subarray([...hostNeeds], { maxLength: 1 }),
  });
  return fc
    .tuple(arbitraryReference('maker', ids), facts, arbitraryFamilyDetails, arbitraryExtras)
    .map(([maker, ...more]) => ({ kind: 'family', id, maker, name: id, ...Object.assign({}, ...more) }));
}

/** Boards with one to three revisions. */
export function arbitraryBoard(id: string, ids: Ids): fc.Arbitrary<Plain<BoardData>> {
  const revisions = fc
    .subarray(revs.slice(0, 3), { minLength: 1 })
    .chain((names) => fc.tuple(...names.map(arbitraryRevision)));
  return fc
    .tuple(arbitraryReference('maker', ids), revisions, arbitraryRetraction, arbitraryExtras)
    .map(([maker, all, retraction, extras]) => ({
      ...{ kind: 'board', id, maker, part_number: id, revisions: all },
      ...retraction,
      ...extras,
    }));
}

/** None, one or several, each with a package or without, and perhaps the adaptives in one of them. */
const arbitraryRoms = fc.array(
  sparse({
    package: fc.constantFrom(...partValues.rom_package),
    holds: fc.subarray(['code', 'adaptives'] as const),
    location: fc.constant('U3'),
  }),
  { maxLength: 2 },
);

function arbitraryRevision(rev: string): fc.Arbitrary<NonNullable<BoardData['revisions']>[number]> {
  return sparse({
    controller: oneOrSome(partValues.controller),
    motor_driver: oneOrSome(partValues.motor_driver),
    contact_pads: fc.constantFrom(...partValues.contact_pads),
    roms: arbitraryRoms,
    drop_in_for: fc.subarray([...revs], { maxLength: 2 }),
  }).map((parts) => ({ rev, ...parts }));
}

function oneOrSome(markings: readonly string[]): fc.Arbitrary<string | string[]> {
  return fc.oneof(fc.constantFrom(...markings), fc.subarray([...markings], { minLength: 1 }));
}

/** Drives that know some of what is printed on them, and something of their board or nothing at all. */
export function arbitraryDrive(id: string, ids: Ids): fc.Arbitrary<Plain<DriveData>> {
  const known = sparse({ ...oneOfEach(driveValues), power_on_hours: fc.constantFrom(...hours) });
  // Most drives are of recorded revisions, or little could be said of any swap.
  const revision = fc.oneof(
    { weight: 3, arbitrary: fc.record({ id: arbitraryReference('board', ids), rev: fc.constantFrom(...revs, 'a1') }) },
    { weight: 1, arbitrary: sparse({ id: arbitraryReference('board', ids), rev: fc.constantFrom(...revs) }) },
  );
  const { sticker, controller, motor_driver: driver } = partValues;
  const markings = fc.oneof(fc.constant({}), sparse(oneOfEach({ sticker, controller, motor_driver: driver })));
  const board = fc.tuple(revision, markings).map(([name, own]) => ({ board: { ...name, ...own } }));
  const own = fc.oneof(board, board, fc.constant({}));
  return fc
    .tuple(arbitraryReference('family', ids), known, own, arbitraryDriveDetails, arbitraryExtras)
    .map(([family, ...more]) => ({ kind: 'drive', id, family, ...Object.assign({}, ...more) }));
}
