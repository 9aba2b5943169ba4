/** Fails where a value is missing or false. Packages for this need a process, and a worker has none. */
export function ok(value: unknown, what: string): asserts value {
  if (!value) throw new Error(what);
}

/** Fails where two values differ as JSON. */
export function equal(actual: unknown, expected: unknown): void {
  const [one, other] = [JSON.stringify(actual), JSON.stringify(expected)];
  if (one !== other) throw new Error(`expected ${other}, got ${one}`);
}

/** Fails where a text does not match. */
export function match(text: string, pattern: RegExp): void {
  if (!pattern.test(text)) throw new Error(`expected something like ${pattern}, got ${JSON.stringify(text)}`);
}

/** The first answer that is neither undefined nor false, asked for again and again. Fails after ten seconds. */
export async function until<T>(
  what: string,
  ask: () => T | undefined | false | Promise<T | undefined | false>,
): Promise<T> {
  const end = Date.now() + 10_000;
  for (;;) {
    const answer = await ask();
    if (answer !== undefined && answer !== false) return answer;
    if (Date.now() > end) throw new Error(`waited in vain for ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}
