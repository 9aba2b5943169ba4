/**
 * What tests import as `vitest` while mutants are tried: the same names, but tests are only collected. To start Vitest anew for each of
 * many thousand mutants would take a second or two each time; a collected test is a function that can be called at once.
 */
import { ASYMMETRIC_MATCHERS_OBJECT, JestAsymmetricMatchers, JestChaiExpect, JestExtend } from '@vitest/expect';
import { format } from '@vitest/pretty-format';
import * as chai from 'chai';

chai.use(JestExtend);
chai.use(JestChaiExpect);
chai.use(JestAsymmetricMatchers);
chai.use((_, { addMethod, flag }) => {
  addMethod(chai.Assertion.prototype, 'toMatchInlineSnapshot', function (this: object, written: string) {
    const shown = format(flag(this, 'object'), { escapeString: false, printBasicPrototype: false });
    if (withoutIndent(shown) !== withoutIndent(written)) throw new Error(`This is not as written:\n${shown}`);
  });
});

/** A snapshot as it would stand at the left margin: in a test it is indented as its surroundings are. */
function withoutIndent(text: string): string {
  const lines = text.trim().split('\n');
  const margins = lines.slice(1).flatMap((line) => (line.trim() === '' ? [] : line.search(/\S/)));
  const margin = Math.min(...margins, lines.at(-1)?.search(/\S/) ?? 0);
  return [lines[0], ...lines.slice(1).map((line) => line.slice(margin).trimEnd())].join('\n');
}

/** Something that a file of tests has done. */
export type Body = (...values: readonly unknown[]) => unknown;

/** The tests of one file, and what is to be done before and after them. */
export interface FileOfTests {
  readonly tests: { readonly name: string; readonly run: Body }[];
  readonly before: Body[];
  readonly after: Body[];
}

let file: FileOfTests = { tests: [], before: [], after: [] };
let suites: readonly string[] = [];

/** The tests of a file that is loaded by `load`. */
export function collect(load: () => void): FileOfTests {
  file = { tests: [], before: [], after: [] };
  load();
  return file;
}

export const it = Object.assign(addTest, { each: eachOf(addTest), skipIf: skipIfOf(addTest) });
export const describe = Object.assign(addSuite, { each: eachOf(addSuite), skipIf: skipIfOf(addSuite) });
export const beforeAll = (body: Body): unknown => file.before.push(body);
export const afterAll = (body: Body): unknown => file.after.push(body);
export const expect = Object.assign(
  (value: unknown, message?: string) => chai.expect(value, message),
  chai.expect,
  (globalThis as unknown as Record<symbol, object>)[ASYMMETRIC_MATCHERS_OBJECT],
);

function addTest(name: string, run: Body): void {
  file.tests.push({ name: [...suites, name].join(' › '), run });
}

function addSuite(name: string, body: Body): void {
  const outer = suites;
  suites = [...suites, name];
  body();
  suites = outer;
}

function eachOf(add: (name: string, body: Body) => void) {
  return (rows: readonly unknown[]) => (name: string, body: Body) => {
    for (const [at, row] of rows.entries()) {
      add(`${name} [${at}]`, () => (Array.isArray(row) ? body(...row) : body(row)));
    }
  };
}

function skipIfOf(add: (name: string, body: Body) => void) {
  return (isSkipped: boolean) => (isSkipped ? () => undefined : add);
}
