import type { MappingTableData } from '../../../../schemas/gen/records.ts';
import type { Answer } from '../recording/answers.ts';
import type { KeyRow } from '../schema/key-rows.ts';
import type { Kind } from '../terms/kinds.ts';
import type { Template } from './template.ts';

/** A map that was read and fits its table. */
export interface ImportMap {
  readonly table: MappingTableData;
  /** What each row makes, in order. */
  readonly records: readonly RecordPlan[];
}

/** A record that rows make. */
export interface RecordPlan {
  readonly kind: Kind;
  readonly id: Template;
  /** Position of the column without which it is not made; undefined where it is made of every row. */
  readonly when: number | undefined;
  /** Folder in the base, without a slash at its end; undefined where the base's own order decides. */
  readonly folder: string | undefined;
  readonly fields: readonly FieldPlan[];
}

/** Where the value of a field comes from: columns and records by their positions. */
export type Source =
  | { readonly from: 'column'; readonly column: number }
  | { readonly from: 'text'; readonly template: Template }
  | { readonly from: 'constant'; readonly value: Answer }
  | { readonly from: 'record'; readonly position: number };

/** How a key is filled. */
export interface FieldPlan {
  /** The key, with dots between the steps of its path. */
  readonly name: string;
  /** Undefined for keys of the shop's own. */
  readonly row: KeyRow | undefined;
  readonly source: Source;
  /** By the text of the cell, folded. */
  readonly values: ReadonlyMap<string, Answer>;
  readonly fallback: Answer | undefined;
  readonly split: string | undefined;
  readonly unit: string | undefined;
  readonly dates: readonly string[] | undefined;
  readonly decimal: 'point' | 'comma' | undefined;
}
