import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { pageMark } from '../../server/src/core/reports/render-html.ts';
import { named, type ReadPage, readPage } from '../harness/read-page.ts';
import { filePagesOf, panelNonce, panelPagesOf } from '../harness/report-pages.ts';
import { outcome, ternBench } from '../harness/tern-bench.ts';

const broken = { ...ternBench, 'outcomes/left.yaml': outcome('left', 'left') };

/** What stands in the main part of a page, an element a line, with the attributes that say what it is or where it leads. */
function outlineOf({ elements }: ReadPage): string {
  const shown = ['class', 'id', 'href', 'scope', 'role', 'aria-label', 'tabindex', 'data-place', 'open'];
  const quiet = new Set(['svg', 'path', 'code', 'tr', 'thead', 'tbody']);
  const holders = new Set(['main', 'nav', 'details', 'ul', 'li', 'div', 'table', 'pre']);
  return elements
    .filter(({ name, within }) => within.includes('main') && !quiet.has(name))
    .map(({ name, attributes, text, within }) => {
      const depth = within.slice(within.indexOf('main') + 1).filter((around) => !quiet.has(around)).length;
      const said = shown.flatMap((key) => (attributes[key] === undefined ? [] : `${key}=${attributes[key]}`));
      return [`${'  '.repeat(depth)}${name}`, ...said, holders.has(name) ? '' : `| ${text}`].join(' ').trimEnd();
    })
    .join('\n');
}

describe('a page', () => {
  it('of findings leads by file to each finding, with its line and what it is about', () => {
    expect(outlineOf(readPage(filePagesOf(broken)['findings.html'] ?? ''))).toMatchInlineSnapshot(`
      "h1 | Findings: Harbour Street bench
      p | 1 error, 0 warnings, 0 notes.
      h2 id=part-1 | outcomes/left.yaml
      ul class=findings
        li class=finding error id=outcomes/left.yaml:7
          p class=head | error outcome/left outcome-breaks-rule outcomes/left.yaml:7
            span class=severity | error
            span class=record | outcome/left
            span class=check | outcome-breaks-rule
              a href=#check-outcome-breaks-rule | outcome-breaks-rule
            span class=place | outcomes/left.yaml:7
              a href=#outcomes%2Fleft.yaml%3A7 | outcomes/left.yaml:7
          p class=message | Outcome left reached reads, but rule tern-rom-travels says that needs rom_travels: true: the ROM was left (this family keeps its adaptives in rom_chip).
          p class=help | Check the bench notes; correct the record, or give the rule an exception with its reason.
          pre
            span class=line | 7
            mark | reads
          ul class=related
            li
              span class=place | rules/tern.yaml:4
      h2 id=part-2 | Why these are looked for
      div class=checks
        details id=check-outcome-breaks-rule
          summary | outcome-breaks-rule
          p | Either the record is wrong or the rule is. Until that is settled, the rule misleads whoever picks the next donor."
    `);
  });

  it('at a glance counts records, findings, rules and pairs', () => {
    expect(outlineOf(readPage(filePagesOf(broken)['index.html'] ?? ''))).toMatchInlineSnapshot(`
      "h1 | Harbour Street bench
      p class=caution role=note | This is what was recorded, and promises nothing of the next swap. Powering a drive can cost data: where the data matters to anyone, leave it to a professional recovery lab.
      nav class=contents aria-label=On this page
        details open=
          summary | On this page
          ul
            li
              a href=#part-1 | Records
            li
              a href=#part-2 | Findings
            li
              a href=#part-3 | Rules
            li
              a href=#part-4 | Families
      h2 id=part-1 | Records
      div class=scroll role=region aria-label=7 records in 6 files tabindex=0
        table
          caption | 7 records in 6 files
          th class=left scope=col | kind
          th class=right scope=col | records
          th class=left scope=row | maker
          td class=right | 1
          th class=left scope=row | family
          td class=right | 1
          th class=left scope=row | board
          td class=right zero | 0
          th class=left scope=row | drive
          td class=right | 2
          th class=left scope=row | outcome
          td class=right | 2
          th class=left scope=row | rule
          td class=right | 1
      h2 id=part-2 | Findings
      div class=scroll role=region aria-label=1 error, 0 warnings, 0 notes, by check tabindex=0
        table
          caption | 1 error, 0 warnings, 0 notes, by check
          th class=left scope=col | check
          th class=right scope=col | errors
          th class=right scope=col | warnings
          th class=right scope=col | notes
          th class=left scope=row | outcome-breaks-rule
          td class=right | 1
          td class=right zero | 0
          td class=right zero | 0
      h2 id=part-3 | Rules
      div class=scroll role=region aria-label=Outcomes by how they stand to each rule tabindex=0
        table
          caption | Outcomes by how they stand to each rule
          th class=left scope=col | rule
          th class=right scope=col | support
          th class=right scope=col | against
          th class=right scope=col | undecided
          th class=right scope=col | excepted
          th class=left scope=row | tern-rom-travels
          td class=right | 1
          td class=right | 1
          td class=right zero | 0
          td class=right zero | 0
      p | Support and against count outcomes that decide the claim. Undecided: a control, a value or the scope is not known. Excepted: set aside by the rule itself. Outcomes the claim says nothing about are not counted.
      h2 id=part-4 | Families
      div class=scroll role=region aria-label=Pairs of drives that worked, by family of the patient tabindex=0
        table
          caption | Pairs of drives that worked, by family of the patient
          th class=left scope=col | family
          th class=left scope=col | ROM
          th class=right scope=col | pairs
          th class=right scope=col | worked
          th class=right scope=col | independent
          th class=right scope=col | at least
          th class=right scope=col | at most
          th class=left scope=row | tern-2
            a href=family-tern-2.html | tern-2
          td class=left | nothing to count yet
          td class=right zero | 0
          td class=right |
          td class=right |
          td class=right |
          td class=right |
      p | Only outcomes with every control count. A pair of drives that was tried more than once counts once, for the share of its trials that worked. The bounds are exact at 95 % and rest on pairs that share no drive. Not counted: 2 that worked without every control, 0 inconclusive."
    `);
  });

  it('of outcomes against rules leads to the page of findings', () => {
    expect(outlineOf(readPage(filePagesOf(broken)['contradictions.html'] ?? ''))).toMatchInlineSnapshot(`
      "h1 | Outcomes against rules: Harbour Street bench
      h2 id=part-1 | Broken rules
      ul class=findings
        li class=finding error id=outcomes/left.yaml:7
          p class=head | error outcome/left outcome-breaks-rule outcomes/left.yaml:7
            span class=severity | error
            span class=record | outcome/left
            span class=check | outcome-breaks-rule
              a href=findings.html#check-outcome-breaks-rule | outcome-breaks-rule
            span class=place | outcomes/left.yaml:7
              a href=findings.html#outcomes%2Fleft.yaml%3A7 | outcomes/left.yaml:7
          p class=message | Outcome left reached reads, but rule tern-rom-travels says that needs rom_travels: true: the ROM was left (this family keeps its adaptives in rom_chip).
          p class=help | Check the bench notes; correct the record, or give the rule an exception with its reason.
          pre
            span class=line | 7
            mark | reads
          ul class=related
            li
              span class=place | rules/tern.yaml:4
      h2 id=part-2 | Rules
      div class=scroll role=region aria-label=Outcomes by how they stand to each rule tabindex=0
        table
          caption | Outcomes by how they stand to each rule
          th class=left scope=col | rule
          th class=right scope=col | support
          th class=right scope=col | against
          th class=right scope=col | undecided
          th class=right scope=col | excepted
          th class=left scope=row | tern-rom-travels
          td class=right | 1
          td class=right | 1
          td class=right zero | 0
          td class=right zero | 0
      p | Support and against count outcomes that decide the claim. Undecided: a control, a value or the scope is not known. Excepted: set aside by the rule itself. Outcomes the claim says nothing about are not counted."
    `);
  });

  it('in a panel has buttons for the places in files, and links within itself', () => {
    const { html } = panelPagesOf(broken).contradictions;
    const page = readPage(html);
    const buttonsIn = (part: string) =>
      named(page, 'button')
        .filter(({ within }) => within.includes(part))
        .map(({ attributes, text }) => [attributes['data-place'] ?? attributes['data-report'], text]);
    expect(buttonsIn('header')[0]).toEqual(['overview', 'Overview']);
    expect(buttonsIn('header')).toContainEqual(['contradictions', 'Outcomes against rules']);
    expect(buttonsIn('header')).toContainEqual(['findings', 'Findings']);
    expect(buttonsIn('main')).toMatchInlineSnapshot(`
      [
        [
          "0",
          "outcomes/left.yaml:7",
        ],
        [
          "1",
          "rules/tern.yaml:4",
        ],
        [
          "2",
          "tern-rom-travels",
        ],
      ]
    `);
    for (const { attributes } of named(page, 'a')) expect(attributes['href']).toMatch(/^#/);
  });

  it('of a base without anything in it says so', () => {
    const page = readPage(filePagesOf({})['findings.html'] ?? '');
    expect(named(page, 'p').map(({ text }) => text)).toContain('No check has found anything.');
  });

  it('shows no more findings than anybody reads, the gravest ones', () => {
    const makers = Array.from({ length: 2500 }, (_, at) => `kind: maker\nid: m-${at}\nname: M\nnmae: 1\n`);
    const { 'rules/tern.yaml': untested, 'outcomes/moved.yaml': _, ...others } = ternBench;
    const files = { ...others, 'a-rule.yaml': untested, 'makers/crowd.yaml': makers.join('---\n') };
    const page = readPage(filePagesOf(files)['findings.html'] ?? '');
    const classes = page.elements.map(({ attributes }) => attributes['class'] ?? '');
    expect(classes.filter((name) => name.startsWith('finding '))).toEqual(Array(2000).fill('finding error'));
    expect(named(page, 'p').map(({ text }) => text)).toContain(
      '501 more are not shown, the least grave ones; swaplore lint lists them.',
    );
  });
});

describe('the policy of a page', () => {
  const policyOf = (page: ReadPage): string | undefined =>
    named(page, 'meta').find(({ attributes }) => attributes['http-equiv'] === 'Content-Security-Policy')?.attributes[
      'content'
    ];

  it('in a file allows its own style by its hash, and nothing else', () => {
    for (const html of Object.values(filePagesOf(broken))) {
      const page = readPage(html);
      const [style] = named(page, 'style');
      const hash = createHash('sha256')
        .update(style?.text ?? '')
        .digest('base64');
      expect(policyOf(page)).toBe(
        `default-src 'none'; style-src 'sha256-${hash}'; base-uri 'none'; form-action 'none'`,
      );
      expect(named(page, 'script')).toEqual([]);
    }
  });

  it('in a panel allows its own style and script by a nonce, and nothing else', () => {
    for (const { html } of Object.values(panelPagesOf(broken))) {
      const page = readPage(html);
      const own = `'nonce-${panelNonce}'`;
      expect(policyOf(page)).toBe(
        `default-src 'none'; style-src ${own}; script-src ${own}; base-uri 'none'; form-action 'none'`,
      );
      for (const name of ['style', 'script']) {
        expect(named(page, name).map(({ attributes }) => attributes)).toEqual([{ nonce: panelNonce }]);
      }
    }
  });

  it('comes before all it is about, and the mark of our pages soon after', () => {
    const html = filePagesOf(broken)['index.html'] ?? '';
    const [charset, policy] = named(readPage(html), 'meta');
    expect(charset?.attributes).toEqual({ charset: 'utf-8' });
    expect(policy?.attributes).toHaveProperty('http-equiv');
    expect(html.slice(0, 1000)).toContain(pageMark);
  });
});
