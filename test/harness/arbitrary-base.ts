import fc from 'fast-check';
import type {
  BoardData,
  ConfigData,
  DriveData,
  FamilyData,
  MakerData,
  OutcomeData,
  RuleData,
} from '../../schemas/gen/records.ts';
import { kinds } from '../../server/src/core/terms/kinds.ts';
import { arbitraryIds, type Ids } from './arbitrary-ids.ts';
import { arbitraryBoard, arbitraryDrive, arbitraryFamily, arbitraryMaker, type Plain } from './arbitrary-parts.ts';
import { arbitraryOutcome, arbitraryRule, arbitraryStage } from './arbitrary-swaps.ts';
import { sparse } from './sparse.ts';

/** A small base as plain data, its records by kind. */
export interface PlainBase {
  readonly config: ConfigData;
  readonly maker: readonly Plain<MakerData>[];
  readonly family: readonly Plain<FamilyData>[];
  readonly board: readonly Plain<BoardData>[];
  readonly drive: readonly Plain<DriveData>[];
  readonly outcome: readonly Plain<OutcomeData>[];
  readonly rule: readonly Plain<RuleData>[];
}

/** Any record of a base. */
export type PlainRecord = PlainBase[(typeof kinds)[number]][number];

/** All records of a base, kind by kind. */
export function recordsOf(base: PlainBase): PlainRecord[] {
  return kinds.flatMap((kind): readonly PlainRecord[] => base[kind]);
}

/**
 * Small bases that keep to the schemas, and to nothing else: rules contradict outcomes and each other, some references lead nowhere,
 * drives are of revisions that no board lists. Values are few, so that drives often agree, and most keys are missing somewhere.
 */
export const arbitraryBase: fc.Arbitrary<PlainBase> = arbitraryIds.chain((ids) =>
  fc.record({
    config: sparse({ works_at: arbitraryStage }).map((settings): ConfigData => ({ swaplore: 1, ...settings })),
    maker: each(ids.maker, arbitraryMaker),
    family: each(ids.family, (id) => arbitraryFamily(id, ids)),
    board: each(ids.board, (id) => arbitraryBoard(id, ids)),
    drive: each(ids.drive, (id) => arbitraryDrive(id, ids)),
    outcome: each(ids.outcome, (id) => arbitraryOutcome(id, ids)),
    rule: each(ids.rule, (id) => arbitraryRule(id, ids)),
  }),
) as fc.Arbitrary<PlainBase>;

function each<Item>(ids: Ids[keyof Ids], of: (id: string) => fc.Arbitrary<Item>): fc.Arbitrary<Item[]> {
  return fc.tuple(...ids.map(of));
}
