import type { Path } from '../syntax/tape.ts';

/** What an edit writes. Numbers are finite; nothing is null, for absence is said by removing. Maps are written in the schema's order. */
export type Value = string | number | boolean | readonly Value[] | ValueMap;

/** A map to be written. */
export interface ValueMap {
  readonly [key: string]: Value;
}

/**
 * What is to become of one place of one text. Documents and list positions count from 0; paths mean the text as the intents before it
 * in the list left it.
 */
export type Intent =
  /** The path reads as the value afterwards. An absent key is added, in the schema's order among those present; maps above it too. */
  | { readonly intent: 'set'; readonly document: number; readonly path: Path; readonly value: Value }
  /** Puts an item into a list, before the one that has its position now, or a key that must be absent into a map. */
  | { readonly intent: 'insert'; readonly document: number; readonly path: Path; readonly value: Value }
  /** Takes out a key or list item, with the comment behind it and comments within it. */
  | { readonly intent: 'remove'; readonly document: number; readonly path: Path }
  /** Gives a key another name; its value and its place stay. */
  | { readonly intent: 'rename'; readonly document: number; readonly path: Path; readonly name: string }
  /** Puts the keys of the map at the path, and of all maps within it, into the schema's order, with what belongs to them. */
  | { readonly intent: 'sort'; readonly document: number; readonly path: Path }
  /** Adds a document behind all others; in an empty text the first. */
  | { readonly intent: 'create'; readonly value: ValueMap };

/** An intent on a place of a document. */
export type PlacedIntent = Exclude<Intent, { readonly intent: 'create' }>;
