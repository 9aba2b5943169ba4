import { describe, expect, it } from 'vitest';
import { checks } from '../../server/src/core/checks/registry.ts';
import { checkExample } from '../harness/check.ts';

/** Checks that no file can make fire; `internal-check-failed.test.ts` injects the fault. */
const raisedByTheRun: ReadonlySet<string> = new Set(['internal-check-failed']);

describe.each(checks.map((check) => [check.check, check] as const))('%s', (id, check) => {
  it('says why it exists', () => {
    expect(check.why).toMatch(/^[A-Z].*\.$/s);
    expect(check.why.length).toBeGreaterThan(60);
  });

  if (raisedByTheRun.has(id)) return;

  it('has an example that fires and a near miss that does not', async () => {
    const fires = await Promise.all(
      check.examples().map(async (example) => (await checkExample(example)).some((finding) => finding.check === id)),
    );
    expect(fires).toContain(true);
    expect(fires).toContain(false);
  });

  it.each(check.examples().map((example) => [example.title, example] as const))('%s', async (_, example) => {
    await checkExample(example);
  });
});

describe('messages', () => {
  it('follow the style: a capital or a quoted word first, a full stop last, no blame and no parser jargon', async () => {
    for (const check of checks) {
      for (const example of check.examples()) {
        for (const { message, help } of await checkExample(example)) {
          for (const text of [message, ...(help === undefined ? [] : [help])]) {
            expect(text).toMatch(/^[A-Z`].*\.$/s);
            expect(text).not.toMatch(/\b(illegal|please|you|your|oneOf|token|node|invalid)\b/i);
          }
        }
      }
    }
  });
});
