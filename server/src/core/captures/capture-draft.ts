import type { CaptureFormat, CaptureProblem, CaptureValues, Decoded, UnnamedField } from './decoded.ts';

type Writable<T> = { -readonly [Key in keyof T]: T[Key] };

/** What a decoder has found so far. */
export class CaptureDraft {
  readonly values: Writable<CaptureValues> = {};
  readonly #problems: CaptureProblem[] = [];
  readonly #unnamed: UnnamedField[] = [];
  readonly #likelySerials: string[] = [];

  /** Notes what makes values unreliable, in one sentence. */
  fail(message: string): void {
    this.#problems.push({ severity: 'error', message });
  }

  /** Notes what is out of order while the values hold, in one sentence. */
  warn(message: string): void {
    this.#problems.push({ severity: 'warning', message });
  }

  /** Keeps what has no name here. */
  keep(field: UnnamedField): void {
    this.#unnamed.push(field);
  }

  /** Keeps what has no name here and may be a serial number, or hold one; `text` is what to look for where it must not be seen. */
  keepLikelySerial(field: UnnamedField, text: string): void {
    this.#unnamed.push(field);
    if (text !== '') this.#likelySerials.push(text);
  }

  /** Sets a value, where there is one. */
  set<Key extends keyof CaptureValues>(key: Key, value: CaptureValues[Key] | undefined): void {
    if (value !== undefined) this.values[key] = value;
  }

  done(format: CaptureFormat | undefined): Decoded {
    const decoded = { format, values: this.values, problems: this.#problems, unnamed: this.#unnamed };
    return this.#likelySerials.length > 0 ? { ...decoded, likelySerials: this.#likelySerials } : decoded;
  }
}

/** What is made of bytes nobody can read: one problem, and nothing else. */
export function undecoded(message: string, format?: CaptureFormat): Decoded {
  return { format, values: {}, problems: [{ severity: 'error', message }], unnamed: [] };
}
