import { describe, expect, it } from 'vitest';
import { renderMarkdown } from '../../server/src/core/reports/render-markdown.ts';
import { renderText } from '../../server/src/core/reports/render-text.ts';
import { reviewDocument } from '../../server/src/core/reports/review.ts';
import { reviewData } from '../../server/src/core/reports/review-data.ts';
import { singlePage } from '../../server/src/core/reports/single-page.ts';
import type { Review } from '../../server/src/core/review/review-change.ts';
import { hostileBase, hostileHost } from '../harness/hostile-base.ts';
import { readMarkdown } from '../harness/read-markdown.ts';
import { named, readPage } from '../harness/read-page.ts';
import { reviewOf } from '../harness/review-of.ts';
import { outcome, ternBench } from '../harness/tern-bench.ts';

const names = { base: 'main', head: 'november', remarks: [] };

function textOf(review: Review): string {
  return renderText(reviewDocument(review, names), { width: 80, strong: (text) => text });
}

describe('a review in words', () => {
  const left = outcome('left', 'left').replace('reached', 'controls: {donor_on_own_board: works}\nreached');
  const excepted = `${ternBench['rules/tern.yaml']}exceptions: [{outcome: left, because: the ROM was empty}]\n`;

  it('says what a change comes to, then what to ask, then what differs', () => {
    const after = {
      ...ternBench,
      'outcomes/left.yaml': left,
      'drives/tern.yaml': ternBench['drives/tern.yaml'].replace('family: tern-2', 'family: tern-2\nfirmware: NT10'),
    };
    expect(textOf(reviewOf(ternBench, after))).toMatchInlineSnapshot(`
      "Review: november against main
      =============================

      The change adds 1 outcome and alters 1 drive. Rule \`tern-rom-travels\` is broken
      now. The odds of \`tern-2\` differ.

      Findings: 1 error is new.

      New findings

      error: outcome/left (outcomes/left.yaml)
        Outcome \`left\` reached \`reads\`, but rule \`tern-rom-travels\` says that needs
        \`rom_travels: true\`: the ROM was \`left\` (this family keeps its adaptives in
        \`rom_chip\`).
        Check the bench notes; correct the record, or give the rule an exception with
        its reason.

      Outcomes

      outcome  before     now    at other stages
      left     not there  works

      Rules

      \`tern-rom-travels\`
        It is broken: an outcome is against it.
        Outcomes: support 1, against 0 → 1.
        Newly against it: \`left\`.

      Odds

      family  ROM                    before                   now
      tern-2  without every control  1 worked, 0              2 worked, 0 inconclusive
                                     inconclusive

      Added records

      \`outcome/left\`
        d-0117 with the board of d-0118, reads, works

      Changed records

      \`drive/d-0117\`
        Firmware: \`NT10\` added
      "
    `);
  });

  it('says of an exception that it is one', () => {
    const before = { ...ternBench, 'outcomes/left.yaml': left };
    expect(textOf(reviewOf(before, { ...before, 'rules/tern.yaml': excepted }))).toMatchInlineSnapshot(`
      "Review: november against main
      =============================

      The change alters 1 rule. Rule \`tern-rom-travels\` has less against it than
      before.

      Findings: none is new; 1 is gone.

      To be asked before this is accepted

      \`rule/tern-rom-travels\`
        Rule \`tern-rom-travels\` now excepts outcome \`left\` and says \`the ROM was
        empty\`: does that set the outcome aside, or is the rule wrong?

      Rules

      \`tern-rom-travels\`
        It stands: outcomes decide it, and do not break it.
        Outcomes: support 1, against 1 → 0, excepted 0 → 1.

      Findings that are gone

      error: \`outcome/left\` (\`outcomes/left.yaml\`)
        Outcome \`left\` reached \`reads\`, but rule \`tern-rom-travels\` says that needs
        \`rom_travels: true\`: the ROM was \`left\` (this family keeps its adaptives in
        \`rom_chip\`).

      Changed records

      \`rule/tern-rom-travels\`
        Exceptions: \`[{outcome: left, because: the ROM was empty}]\` added
      "
    `);
  });

  it('says so where nothing differs', () => {
    const commented = { ...ternBench, 'drives/tern.yaml': `# looked at again\r\n${ternBench['drives/tern.yaml']}` };
    expect(textOf(reviewOf(ternBench, commented))).toMatchInlineSnapshot(`
      "Review: november against main
      =============================

      No record and no setting says anything else than before. Notes, comments, and
      where and in which order things stand do not count.

      Findings: none is new.
      "
    `);
  });

  it('shows no serial number in full that stands under another key now', () => {
    const row = (value: string, after: string): string =>
      `{value: ${value}, patient_before: WRN0A4F2K, donor_before: WRN0C4F2K, other_after: WRN0A4F2K, after: ${after}}`;
    const withRows = (...rows: readonly string[]) => ({
      ...ternBench,
      'outcomes/moved.yaml': `${outcome('moved', 'chip_moved')}identity: [${rows.join(', ')}]\n`,
    });
    const before = withRows('{value: firmware, after: NT10}', row('serial', 'WRN0A4F2K'));
    expect(textOf(reviewOf(before, withRows(row('model', 'WRN0D9F2K'))))).not.toMatch(/WRN0[AC]/);
  });

  it('shows no serial number in full where the base masks them', () => {
    const withSerial = (serial: string) => ({
      ...ternBench,
      'drives/tern.yaml': ternBench['drives/tern.yaml'].replace('family: tern-2', `family: tern-2\nserial: ${serial}`),
      'outcomes/moved.yaml': `${outcome('moved', 'chip_moved')}identity: [{value: serial, after: ${serial}}]\n`,
    });
    const review = reviewOf(withSerial('WRN0A4F2K'), withSerial('WRN0B7G3L'));
    const data = JSON.stringify(reviewData(review, { ...names, findingData: ({ message }) => ({ message }) }));
    for (const shown of [textOf(review), data]) {
      expect(shown).toContain('****4F2K');
      expect(shown).not.toMatch(/WRN0/);
    }
  });
});

it('keeps a table of outcomes within the width', () => {
  const failed = (controls: string, reached: string): string =>
    outcome('d-0117-with-the-board-of-d-0118', 'chip_moved')
      .replace('reached: reads', `controls: {${controls}}\nreached: ${reached}`)
      .replace('works\n', 'fails\n');
  const [before, after] = [
    failed('donor_on_own_board: works', 'spins'),
    failed('donor_on_own_board: not_tested', 'detected'),
  ];
  const shown = textOf(
    reviewOf({ ...ternBench, 'outcomes/failed.yaml': before }, { ...ternBench, 'outcomes/failed.yaml': after }),
  );
  expect(/^outcome {2}.*(?:\n.+)*/m.exec(shown)?.[0]).toMatchInlineSnapshot(`
    "outcome                          before        now           at other stages
    d-0117-with-the-board-of-d-0118  inconclusive  inconclusive  ready, detected:
                                                                 inconclusive →
                                                                 works"
  `);
});

describe('a review as data', () => {
  it('has pointers into records, counts and null for what is not there', () => {
    const after = {
      ...ternBench,
      'outcomes/left.yaml': outcome('left', 'left'),
      'drives/tern.yaml': ternBench['drives/tern.yaml'].replace('family: tern-2', 'family: tern-2\nx-a/b: 1'),
      'swaplore.yaml': 'swaplore: 1\nseverity: {rom-not-kept: off}\n',
    };
    const data = reviewData(reviewOf(ternBench, after), { ...names, findingData: ({ check }) => ({ check }) });
    expect(data).toMatchObject({
      base: 'main',
      head: 'november',
      records: {
        added: [{ record: 'outcome/left', file: 'outcomes/left.yaml' }],
        changed: [
          {
            record: 'drive/d-0117',
            file: 'drives/tern.yaml',
            changes: [{ path: '/x-a~1b', before: null, after: 1 }],
          },
        ],
        removed: [],
        retracted: [],
      },
      findings: { new: [{ check: 'outcome-breaks-rule' }], gone: [], still: 0 },
      rules: [
        {
          id: 'tern-rom-travels',
          before: { support: 1, against: 0, undecided: 0, excepted: 0 },
          after: { support: 1, against: 1, undecided: 0, excepted: 0 },
        },
      ],
      config: [
        { path: '/name', before: 'Harbour Street bench', after: null },
        { path: '/severity/rom-not-kept', before: null, after: 'off', hides: [] },
      ],
      onMerge: null,
    });
  });
});

describe('a review of hostile files', () => {
  const hostile = reviewOf({ 'swaplore.yaml': 'swaplore: 1\n' }, hostileBase());
  const back = reviewOf(hostileBase(), { 'swaplore.yaml': 'swaplore: 1\n' });

  it('is text in a comment, whatever reads it', () => {
    for (const review of [hostile, back]) {
      const markdown = renderMarkdown(reviewDocument(review, names));
      expect(markdown.length).toBeLessThanOrEqual(60_000);
      for (const reader of ['withHtml', 'withoutHtml'] as const) {
        const page = readMarkdown(markdown, reader);
        for (const { name, attributes } of page.elements) {
          expect(['a', 'img', 'svg', 'script', 'style', 'iframe', 'input', 'del', 'em', 'hr']).not.toContain(name);
          expect(Object.keys(attributes).filter((attribute) => attribute !== 'style')).toEqual([]);
        }
      }
    }
  });

  it('is text on a page and in a terminal', () => {
    for (const review of [hostile, back]) {
      const blocks = reviewDocument(review, names);
      const page = readPage(singlePage(blocks, { kind: 'file', styleHash: 'sha256-x' }));
      expect(named(page, 'img')).toEqual([]);
      for (const { attributes } of page.elements) expect(JSON.stringify(attributes)).not.toContain(hostileHost);
      // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what must not be there.
      expect(textOf(review)).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e]/);
    }
  });
});
