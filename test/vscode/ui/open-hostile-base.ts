import { hostileHost, hostileMark } from '../../harness/hostile-base.ts';
import { reports } from './expect-reports-read-well.ts';
import type { Workbench } from './workbench.ts';

/** Files of the hostile base, and keys that are hovered in them: beside each the value, if it is short. */
const looks: Readonly<Record<string, readonly string[]>> = {
  'swaplore.yaml': [],
  'makers/wren.yaml': ['id', 'name'],
  'drives/tern.yaml': ['family', 'model', 'wwn'],
  'outcomes/left.yaml': ['patient', 'reached', 'by'],
  'rules/tern.yaml': ['id', 'when'],
  'everywhere/drive.yaml': ['id', 'made'],
  'broken/kinds.yaml': ['kind'],
  'broken/keys.yaml': [],
  'long/wwn.yaml': ['wwn'],
  'long/rule.yaml': ['when'],
  'long/id.yaml': ['id'],
};

/** Looks at all that is shown of a base whose texts try to be more than text. Throws where one of them is. */
export async function openHostileBase(workbench: Workbench): Promise<void> {
  const { page } = workbench;
  await workbench.status(/Swaplore: \d+ errors/).waitFor();
  await page.keyboard.press('Control+Shift+M');
  await page.locator('.markers-panel .monaco-list-row').nth(5).waitFor();
  await expectTextOnly(workbench, 'problems');
  await page.locator('.pane-header', { hasText: 'Outline' }).click();
  for (const [path, keys] of Object.entries(looks)) {
    await workbench.openFile(path);
    if (!path.startsWith('broken/')) await page.locator('.outline-pane .monaco-list-row').first().waitFor();
    for (const key of keys) await hoverBoth(workbench, key);
    await expectTextOnly(workbench, path);
  }
  await complete(workbench);
  await lookAtReports(workbench);
  await lookAtReview(workbench);
  await workbench.status('Swaplore').hover();
  await page.locator('.monaco-hover:not(.hidden)', { hasText: 'onerror' }).first().waitFor();
  await expectTextOnly(workbench, 'status bar');
}

async function hoverBoth(workbench: Workbench, key: string): Promise<void> {
  const { page } = workbench;
  const line = workbench.lines.filter({ hasText: new RegExp(`^(- )?${key}:`) }).first();
  const hover = page.locator('.monaco-hover:not(.hidden) .monaco-hover-content').first();
  let isShown = false;
  for (const column of [1, key.length + 3]) {
    await page.mouse.move(1, 1);
    await hover.waitFor({ state: 'hidden' });
    await line.hover({ position: { x: column * characterPx, y: 8 }, force: true });
    // Of a key or of its value there may be nothing to say, but not of both.
    isShown = await hover.waitFor({ timeout: 1000 }).then(
      () => true,
      () => isShown,
    );
    await expectTextOnly(workbench, `hover on ${key}`);
  }
  if (!isShown) throw new Error(`no hover on ${key}`);
}

/** Somewhat less than the width of a character, so that a position falls into the word that begins there. */
const characterPx = 8;

/** Offers values that stand in other records. */
async function complete(workbench: Workbench): Promise<void> {
  const { page } = workbench;
  await workbench.openFile('everywhere/drive.yaml');
  await page.keyboard.press('Control+End');
  await page.keyboard.type('family: ');
  await page.keyboard.press('Control+Space');
  const family = page.locator('.suggest-widget.visible .monaco-list-row', { hasText: 'tern-2' });
  // What is said of it stands in the list, and beside the list when it is asked for.
  await family.filter({ hasText: 'onerror' }).waitFor();
  await showDetails(workbench);
  await expectTextOnly(workbench, 'completion');
  await page.keyboard.press('Escape');
  await page.keyboard.press('Control+Z');
}

/** Asks for what is said of an offer. A list that is just being filled again takes the key as if it were closed. */
async function showDetails({ page }: Workbench): Promise<void> {
  const details = page.locator('.suggest-details-container');
  for (let attempt = 1; ; attempt++) {
    await page.keyboard.press('Control+Space');
    try {
      return await details.waitFor({ timeout: 5000 });
    } catch (error) {
      if (attempt === 5) throw error;
    }
  }
}

async function lookAtReports(workbench: Workbench): Promise<void> {
  const { report } = workbench;
  await workbench.openReports();
  for (const name of reports) {
    await workbench.showReport(name);
    await report.getByRole('heading', { level: 1, name: /<img src=x onerror=/ }).waitFor();
    const isWide = await report.locator('html').evaluate((html) => html.scrollWidth > html.clientWidth);
    if (isWide) throw new Error(`the report ${name} is wider than its panel`);
    await expectTextOnly(workbench, `report ${name}`);
  }
}

/** What the history does not hold, which is all of it. */
async function lookAtReview(workbench: Workbench): Promise<void> {
  const { page, report } = workbench;
  await workbench.runCommand('Swaplore: Review Changes Against a Branch');
  await page.locator('.quick-input-list .label-name', { hasText: /^main$/ }).click();
  await report.getByRole('heading', { level: 1, name: /^Review: / }).waitFor();
  await expectTextOnly(workbench, 'review');
}

/** Asked of a document: whether a text ran, and the attributes by which it does or leads to something. */
const question = `({
  hasRun: '${hostileMark}' in globalThis,
  acts: [...document.querySelectorAll('*')].flatMap(({ localName, attributes }) =>
    [...attributes]
      .filter(({ name }) => /^(on.*|href|src|srcset|srcdoc|data|data-href|action|formaction|xlink:href)$/.test(name))
      .map(({ name, value }) => ({ what: localName + ' ' + name, value: value.slice(0, 2000) }))),
})`;

interface Answer {
  readonly hasRun: boolean;
  readonly acts: readonly { readonly what: string; readonly value: string }[];
}

/** Photos lead to files of the folder, whatever they are called. */
const inFolder = /^(vscode-remote|vscode-test-web):\/\/[^?#]*$/;

function isOfTexts(value: string): boolean {
  const parts = [hostileHost, hostileMark, 'closeAllEditors', 'etc/hosts', 'command:x'];
  return parts.some((part) => value.includes(part)) && !inFolder.test(value);
}

async function expectTextOnly({ page, harm }: Workbench, place: string): Promise<void> {
  const answers = await Promise.all(page.frames().map((frame) => frame.evaluate<Answer>(question)));
  const ran = answers.some(({ hasRun }) => hasRun) ? ['a text ran'] : [];
  const made = answers
    .flatMap(({ acts }) => acts.filter(({ value }) => isOfTexts(value)))
    .map(({ what, value }) => `${what}="${value.slice(0, 100)}"`);
  const all = [...ran, ...made, ...harm];
  if (all.length > 0) throw new Error(`${place}: ${all.join(', ')}`);
}
