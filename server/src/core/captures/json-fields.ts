import { limits } from '../syntax/limits.ts';
import type { UnnamedField } from './decoded.ts';

/** A value of JSON. */
export type Json = null | boolean | number | string | readonly Json[] | JsonMap;

/** An object of JSON. */
export interface JsonMap {
  readonly [key: string]: Json;
}

/** The value that a text of JSON stands for; undefined where it is none, or nested deeper than anything is that can be read. */
export function parseJson(text: string): Json | undefined {
  // Found out beforehand: writing such a value out again would overflow the stack.
  if (depthOf(text) > limits.depth) return undefined;
  try {
    return JSON.parse(text) as Json;
  } catch {
    return undefined;
  }
}

/** Whether a value is an object. */
export function isJsonMap(value: Json | undefined): value is JsonMap {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** The fields of an object, which remember what was taken of them. Paths are keys with dots between, such as `wwn.naa`. */
export class JsonFields {
  readonly #root: JsonMap;
  readonly #taken = new Set<string>();

  constructor(root: JsonMap) {
    this.#root = root;
  }

  /** A text without spaces around it; undefined where there is none or nothing in it. */
  text(path: string): string | undefined {
    const value = this.#at(path);
    if (typeof value !== 'string' || value.trim() === '') return undefined;
    this.#taken.add(path);
    return value.trim();
  }

  /** A whole number from 0 on, also where it is written as a text. */
  count(path: string): number | undefined {
    return this.counts([path])?.[0];
  }

  /** The objects of a list; empty where there is none. */
  maps(path: string): readonly JsonMap[] {
    const value = this.#at(path);
    if (!Array.isArray(value)) return [];
    this.#taken.add(path);
    return value.filter(isJsonMap);
  }

  /** Some whole numbers of which none means anything without the others. */
  counts(paths: readonly string[]): readonly number[] | undefined {
    const numbers = paths.map((path) => toCount(this.#at(path)));
    if (!numbers.every((number) => number !== undefined)) return undefined;
    for (const path of paths) this.#taken.add(path);
    return numbers;
  }

  /** Whether a switch is off; older programs write it as a text. */
  isOff(path: string): boolean {
    const value = this.#at(path);
    const isOff = value === false || value === '0';
    if (isOff) this.#taken.add(path);
    return isOff;
  }

  /** What nobody took, by key, and of an object by its keys. */
  rest(): readonly UnnamedField[] {
    return Object.entries(this.#root).flatMap(([key, value]) =>
      isJsonMap(value)
        ? Object.entries(value).flatMap(([inner, part]) => this.#field(`${key}.${inner}`, part))
        : this.#field(key, value),
    );
  }

  #field(at: string, value: Json): readonly UnnamedField[] {
    if (value === null || value === '' || this.#taken.has(at)) return [];
    return [{ at, value: typeof value === 'string' ? value : JSON.stringify(value) }];
  }

  #at(path: string): Json | undefined {
    return path
      .split('.')
      .reduce<Json | undefined>(
        (value, key) => (isJsonMap(value) && Object.hasOwn(value, key) ? value[key] : undefined),
        this.#root,
      );
  }
}

function toCount(value: Json | undefined): number | undefined {
  const number = typeof value === 'string' && /^\d{1,16}$/.test(value) ? Number(value) : value;
  return typeof number === 'number' && Number.isSafeInteger(number) && number >= 0 ? number : undefined;
}

function depthOf(text: string): number {
  let deepest = 0;
  let depth = 0;
  let isQuoted = false;
  for (let at = 0; at < text.length; at += 1) {
    const character = text.charCodeAt(at);
    if (isQuoted) {
      if (character === 0x5c) at += 1;
      else if (character === 0x22) isQuoted = false;
    } else if (character === 0x22) isQuoted = true;
    else if (character === 0x7b || character === 0x5b) {
      depth += 1;
      deepest = Math.max(deepest, depth);
    } else if (character === 0x7d || character === 0x5d) depth -= 1;
  }
  return deepest;
}
