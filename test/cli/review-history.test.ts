import { expect, it } from 'vitest';
import { history } from '../harness/bench-history.ts';
import { repositoryOf } from '../harness/git-repository.ts';
import { newsIn, review } from '../harness/review-run.ts';

/** What reviews of these ranges have to say, each under its title. */
async function newsOf(
  folder: string,
  ranges: readonly (readonly [base: string, head: string, title: string])[],
): Promise<string> {
  const parts: string[] = [];
  for (const [base, head, title] of ranges) {
    const news = newsIn(await review(folder, '--base', base, '--head', head, '--json'));
    parts.push([title, ...news.map((line) => `  ${line}`)].join('\n'));
  }
  return parts.join('\n');
}

it('says of each commit what it means, and nothing else', async () => {
  const ranges = history.map(({ means }, position) => [`c${position}`, `c${position + 1}`, means] as const).slice(1);
  expect(ranges.length).toBeGreaterThan(29);
  expect(await newsOf(repositoryOf(history), ranges)).toMatchInlineSnapshot(`
    "the base begins
      remark: \`c1\` has no base in \`kb\`, so that all records count as added.
      added maker/wren
      added family/tern-2
      setting /name: null → "Harbour Street bench", hides 0
    two drives in one file
      added drive/d-0117
      added drive/d-0118
    a rule
      added rule/travels
      new info rule-untested rule/travels
      rule travels: none → 0:0
    a swap that worked
      added outcome/moved
      verdict moved: undefined → "works"
      new info rom-not-kept outcome/moved
      gone info rule-untested rule/travels
      rule travels: 0:0 → 1:0
    a swap that failed
      added outcome/left
      verdict left: undefined → "fails"
      rule travels: 1:0 → 2:0
    other line ends
    keys in another order
    comments and notes
    a file moved
    a file divided
    a value recorded
      drive/d-0117/firmware: null → "SC60"
    a value corrected and one taken away
      family/tern-2/adaptives: {"stored_in":"rom_chip"} → null
      drive/d-0117/firmware: "SC60" → "SC61"
      new info rule-untested rule/travels
      rule travels: 2:0 → 0:0
    the family as it was
      family/tern-2/adaptives: null → {"stored_in":"rom_chip"}
      gone info rule-untested rule/travels
      rule travels: 0:0 → 2:0
    an outcome under another id
      added outcome/left-alone
      outcome/left is outcome/left-alone now
      verdict left: "fails" → undefined
      verdict left-alone: undefined → "fails"
    an outcome that breaks the rule
      added outcome/odd
      verdict odd: undefined → "works"
      new error outcome-breaks-rule outcome/odd
      rule travels: 2:0 → 2:1
      exit 1
    an exception for it
      rule/travels/exceptions: null → [{"outcome":"odd","because":"The donor had been its twin."}]
      gone error outcome-breaks-rule outcome/odd
      rule travels: 2:1 → 2:0
      asks about rule/travels
    the check switched off in place of the exception
      rule/travels/exceptions: [{"outcome":"odd","because":"The donor had been its twin."}] → null
      setting /severity/outcome-breaks-rule: null → "off", hides 1
      rule travels: 2:0 → 2:1
      asks about settings
    the exception again
      rule/travels/exceptions: null → [{"outcome":"odd","because":"The donor had been its twin."}]
      setting /severity/outcome-breaks-rule: "off" → null, hides 0
      rule travels: 2:1 → 2:0
      asks about rule/travels
    the law weakened to a rate
      rule/travels/at_least: null → 0.5
      asks about rule/travels
    a law again
      rule/travels/at_least: 0.5 → null
    an observation flipped
      outcome/left-alone/reached: "spins" → "reads"
      outcome/left-alone/result: "fails" → "works"
      verdict left-alone: "fails" → "works"
      new error outcome-breaks-rule outcome/left-alone
      rule travels: 2:0 → 1:1
      exit 1
    and back
      outcome/left-alone/reached: "reads" → "spins"
      outcome/left-alone/result: "works" → "fails"
      verdict left-alone: "works" → "fails"
      gone error outcome-breaks-rule outcome/left-alone
      rule travels: 1:1 → 2:0
      asks about outcome/left-alone
    a control removed
      outcome/left-alone/controls/donor_on_own_board: "works" → null
      verdict left-alone: "fails" → "inconclusive"
      new error result-disagrees outcome/left-alone
      rule travels: 2:0 → 1:0
      asks about outcome/left-alone
      exit 1
    an outcome retracted
      outcome/odd/retracted: null → {"on":"2026-03-20","because":"The drives were mixed up."}
      retracted outcome/odd
      verdict odd: "works" → undefined
      new warning exception-not-needed rule/travels
      rule travels: 1:0 → 1:0
    an outcome and the exception removed
      rule/travels/exceptions: [{"outcome":"odd","because":"The donor had been its twin."}] → null
      removed outcome/odd (gone)
      gone warning exception-not-needed rule/travels
    a file that cannot be read
      removed drive/d-0118 (unread)
      verdict left-alone: "inconclusive" → "inconclusive"
      verdict moved: "works" → "inconclusive"
      new error yaml-syntax
      new info rom-not-kept outcome/moved
      gone error result-disagrees outcome/left-alone
      gone info rom-not-kept outcome/moved
      rule travels: 1:0 → 0:0
      exit 1
    the file mended
      added drive/d-0118
      verdict left-alone: "inconclusive" → "inconclusive"
      verdict moved: "inconclusive" → "works"
      new error result-disagrees outcome/left-alone
      new info rom-not-kept outcome/moved
      gone error yaml-syntax
      gone info rom-not-kept outcome/moved
      rule travels: 0:0 → 1:0
      exit 1
    the base moved
      remark: The base lay in \`kb\` and lies in \`bench\` now.
    on a branch: an outcome, and a law
      added outcome/third
      added rule/firmware-alike
      verdict third: undefined → "works"
      new info rule-untested rule/firmware-alike
      new info rom-not-kept outcome/third
      rule firmware-alike: none → 0:0
      rule travels: 1:0 → 2:0
      asks about drive/d-0118
    meanwhile: another outcome of that id, and a value that its law forbids
      added outcome/third
      drive/d-0118/firmware: null → "SC70"
      verdict third: undefined → "works"
      new info rom-not-kept outcome/third
      rule travels: 1:0 → 2:0
      merged: error outcome-breaks-rule outcome/third; outcome/third by change, rule/firmware-alike by base
      merged: error outcome-breaks-rule outcome/moved; outcome/moved by neither, rule/firmware-alike by base
      merged: error duplicate-id outcome/third; outcome/third by base, outcome/third by change
      exit 1
    the branch merged
      added rule/firmware-alike
      new error outcome-breaks-rule outcome/third
      new error outcome-breaks-rule outcome/moved
      new error duplicate-id outcome/third
      rule firmware-alike: none → 0:2
      exit 1"
  `);
});

it('says of a range what it comes to', async () => {
  const ranges = [
    ['c6', 'c11', 'line ends, order, comments, notes and files'],
    ['c11', 'c14', 'two values, one of them put back'],
    ['c16', 'c21', 'all the ways around a broken law, the exception in the end'],
    ['c21', 'c23', 'an observation flipped and back'],
    ['c15', 'c26', 'an outcome that came and went, and a control lost'],
    ['c6', 'c29', 'the base moved, and what happened before'],
    ['c12', 'c6', 'nothing, as all came later than the head'],
    ['c31', 'c30', 'a branch that collides with what happened meanwhile'],
    ['c1', 'c32', 'everything'],
  ] as const;
  expect(await newsOf(repositoryOf(history), ranges)).toMatchInlineSnapshot(`
    "line ends, order, comments, notes and files
    two values, one of them put back
      drive/d-0117/firmware: null → "SC61"
    all the ways around a broken law, the exception in the end
      rule/travels/exceptions: null → [{"outcome":"odd","because":"The donor had been its twin."}]
      gone error outcome-breaks-rule outcome/odd
      rule travels: 2:1 → 2:0
      asks about rule/travels
    an observation flipped and back
    an outcome that came and went, and a control lost
      outcome/left-alone/controls/donor_on_own_board: "works" → null
      verdict left-alone: "fails" → "inconclusive"
      new error result-disagrees outcome/left-alone
      rule travels: 2:0 → 1:0
      asks about outcome/left-alone
      exit 1
    the base moved, and what happened before
      remark: The base lay in \`kb\` and lies in \`bench\` now.
      added outcome/left-alone
      drive/d-0117/firmware: null → "SC61"
      removed outcome/left (gone)
      verdict left: "fails" → undefined
      verdict left-alone: undefined → "inconclusive"
      new error result-disagrees outcome/left-alone
      rule travels: 2:0 → 1:0
      asks about outcome/left
      asks about outcome/left-alone
      exit 1
    nothing, as all came later than the head
    a branch that collides with what happened meanwhile
      added outcome/third
      added rule/firmware-alike
      verdict third: undefined → "works"
      new info rule-untested rule/firmware-alike
      new info rom-not-kept outcome/third
      rule firmware-alike: none → 0:0
      rule travels: 1:0 → 2:0
      asks about drive/d-0118
      merged: error outcome-breaks-rule outcome/third; outcome/third by base, rule/firmware-alike by change
      merged: error outcome-breaks-rule outcome/moved; outcome/moved by neither, rule/firmware-alike by change
      merged: error duplicate-id outcome/third; outcome/third by change, outcome/third by base
      exit 1
    everything
      remark: \`c1\` has no base in \`bench\`, so that all records count as added.
      added maker/wren
      added family/tern-2
      added drive/d-0117
      added drive/d-0118
      added outcome/left-alone
      added outcome/moved
      added outcome/third
      added rule/firmware-alike
      added rule/travels
      verdict left-alone: undefined → "inconclusive"
      verdict moved: undefined → "works"
      verdict third: undefined → "works"
      setting /name: null → "Harbour Street bench", hides 0
      new info rom-not-kept outcome/third
      new error outcome-breaks-rule outcome/third
      new error result-disagrees outcome/left-alone
      new info rom-not-kept outcome/moved
      new error outcome-breaks-rule outcome/moved
      new error duplicate-id outcome/third
      rule firmware-alike: none → 0:2
      rule travels: none → 2:0
      asks about outcome/left-alone
      exit 1"
  `);
});
