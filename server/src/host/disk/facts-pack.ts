/**
 * File facts on disk, by content id: segments of JSON, each behind its length and digest. New facts are appended, so that a base of
 * thousands of files is not written again for one of them. What was cut short or damaged ends the reading; what stood before it counts.
 * Laws (test/property/base-cache.property.test.ts):
 * - a pack gives back the facts that went in
 * - a pack damaged anywhere gives right facts or none
 * - a pack of another seal gives none
 */
import { createHash } from 'node:crypto';
import { appendFileSync, closeSync, fstatSync, openSync, readSync, truncateSync } from 'node:fs';
import type { FileFacts } from '../../core/model/file-facts.ts';
import { writeAtomically } from './write-atomically.ts';

/** Facts of several files as JSON text: what a loader sends and a segment holds. */
export interface PackedFacts {
  readonly ids: readonly string[];
  /** As many as there are ids, in their order. */
  readonly facts: readonly FileFacts[];
}

const digestBytes = 20;
const headBytes = 4 + digestBytes;

/** The file that holds the facts of one base. */
export class FactsPack {
  /** `seal` names whose facts these are, so that a pack which was put in another's place counts as damaged. */
  constructor(
    readonly path: string,
    private readonly seal: string,
  ) {}

  /** The facts at hand, segment by segment (invariant 10). Throws where there is no pack. */
  *read(): Generator<undefined, Map<string, FileFacts>> {
    const found = new Map<string, FileFacts>();
    const file = openSync(this.path, 'r');
    try {
      const { size } = fstatSync(file);
      let end = 0;
      for (const segment of segmentsOf(file, size, this.seal)) {
        const { ids, facts } = JSON.parse(segment.text) as PackedFacts;
        for (const [position, id] of ids.entries()) {
          const one = facts[position];
          // Files that could not be read have no id.
          if (one && id !== '') found.set(id, one);
        }
        end = segment.end;
        yield;
      }
      // Nothing that is added behind a damaged segment would ever be read.
      if (end < size) truncateSync(this.path, end);
    } finally {
      closeSync(file);
    }
    return found;
  }

  /** Adds facts: `PackedFacts` as JSON. */
  append(text: string): void {
    appendFileSync(this.path, toSegment(text, this.seal), { mode: 0o600 });
  }

  /** Puts facts in place of all others. */
  replace(text: string): void {
    writeAtomically(this.path, toSegment(text, this.seal), 'own');
  }
}

/** JSON with all characters escaped but those of ASCII. One of others in a segment makes it take twice as long to read. */
export function toAscii(json: string): string {
  return json.replace(/[\u0080-\uffff]/g, (unit) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`);
}

function toSegment(text: string, seal: string): Buffer {
  const bytes = Buffer.from(text, 'utf8');
  const body = bytes.length === text.length ? bytes : Buffer.from(toAscii(text), 'latin1');
  const head = Buffer.alloc(4);
  head.writeUInt32LE(body.length);
  return Buffer.concat([head, digestOf(body, seal), body]);
}

function* segmentsOf(
  file: number,
  size: number,
  seal: string,
): Generator<{ readonly text: string; readonly end: number }> {
  const head = Buffer.alloc(headBytes);
  // One after the other is read into the same memory.
  let room = Buffer.alloc(0);
  for (let at = 0; at + headBytes <= size; ) {
    readSync(file, head, 0, headBytes, at);
    const length = head.readUInt32LE(0);
    const end = at + headBytes + length;
    if (end > size) return;
    if (room.length < length) room = Buffer.allocUnsafe(2 * length);
    const body = room.subarray(0, length);
    readSync(file, body, 0, length, at + headBytes);
    if (!digestOf(body, seal).equals(head.subarray(4))) return;
    yield { text: body.toString('latin1'), end };
    at = end;
  }
}

function digestOf(bytes: Uint8Array, seal: string): Buffer {
  return createHash('sha1').update(`${seal}\0`).update(bytes).digest();
}
