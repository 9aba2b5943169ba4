import type { FrameLocator, Locator, Page } from 'playwright-core';

/** A window of VS Code, used with keys and mouse. Everything throws where what it waits for does not appear. */
export class Workbench {
  constructor(
    readonly page: Page,
    /** What it does that no page of ours may do, until now. */
    readonly harm: readonly string[],
  ) {}

  /** The lines of the editor in front. */
  get lines(): Locator {
    return this.page.locator('.editor-instance .view-line');
  }

  /** What is in the panel in front. */
  get report(): FrameLocator {
    return this.page.frameLocator('iframe.webview').frameLocator('iframe#active-frame');
  }

  /** What the extension says in the status bar. */
  status(text: string | RegExp): Locator {
    return this.page.locator('.statusbar-item', { hasText: text });
  }

  /** A word of the editor in front, the first of its kind. */
  word(word: string): Locator {
    return this.lines.locator('span > span', { hasText: new RegExp(`^\\s*${word}$`) }).first();
  }

  /** Opens a file of the folder in an editor, which has the focus then. */
  async openFile(path: string): Promise<void> {
    if (path.includes('/')) await this.findFile(path);
    // Where an extension provides the folder, what lies in its root is not searched.
    else await this.page.locator('.explorer-folders-view .monaco-list-row', { hasText: path }).dblclick();
    await this.page.locator(`.editor-instance .monaco-editor[data-uri$="/${path}"]`).waitFor();
  }

  /** Runs a command of the palette by its title. */
  async runCommand(title: string): Promise<void> {
    await this.page.keyboard.press('F1');
    await this.input.fill(`>${title}`);
    // What is best known stands first, also where something else is called that.
    const row = this.page.locator('.quick-input-list .monaco-list-row', { hasText: new RegExp(`^\\s*${title}`) });
    await row.first().click();
  }

  /** Puts the window into the colours of a theme. */
  async chooseTheme(theme: string): Promise<void> {
    await this.runCommand('Preferences: Color Theme');
    await this.page.locator('.quick-input-widget input[placeholder*="Color Theme"]').fill(theme);
    await this.page.locator('.quick-input-list .monaco-list-row.focused', { hasText: theme }).waitFor();
    await this.page.keyboard.press('Enter');
    await this.input.waitFor({ state: 'hidden' });
  }

  /** Opens the panel with the reports. */
  async openReports(): Promise<void> {
    await this.status(/Swaplore(:|$)/).waitFor();
    await this.runCommand('Swaplore: Check Outcomes Against Rules');
    await this.report.locator('nav').first().waitFor();
  }

  /** Shows a report in the panel that is open, by the name its button has. */
  async showReport(name: string): Promise<void> {
    const current = this.report.locator('nav [aria-current]', { hasText: name });
    if (!(await current.isVisible())) await this.report.getByRole('button', { name, exact: true }).click();
    await current.waitFor();
  }

  /** Selects a word in the editor in front. */
  async select(word: string): Promise<void> {
    // The cursor that is drawn over a word is in nobody's way.
    await this.word(word).dblclick({ force: true });
  }

  /** Selects a word in the editor in front and types another in its place, without taking what is offered meanwhile. */
  async replaceWord(word: string, other: string): Promise<void> {
    await this.select(word);
    await this.page.keyboard.type(other);
    await this.page.keyboard.press('Escape');
  }

  /** What is shown where the mouse rests on a word. */
  async hover(word: string): Promise<Locator> {
    await this.word(word).hover();
    const shown = this.page.locator('.monaco-hover:not(.hidden) .monaco-hover-content');
    await shown.first().waitFor();
    return shown;
  }

  private async findFile(path: string): Promise<void> {
    const [, folder = '', name = ''] = /(.*)\/(.*)/.exec(path) ?? [];
    const row = this.page
      .locator('.quick-input-list .monaco-list-row.focused', { hasText: name })
      .filter({ hasText: folder });
    await this.page.keyboard.press('Control+P');
    await this.input.waitFor();
    // What was found while the folder was still being read stays as it was until something else is asked for.
    for (let tries = 0; !(await row.isVisible()); tries++) {
      if (tries > 40) throw new Error(`${path} is not found`);
      if (tries % 8 === 0) await this.input.fill(tries % 16 === 0 ? path : name);
      await this.page.waitForTimeout(100);
    }
    await this.page.keyboard.press('Enter');
  }

  private get input(): Locator {
    return this.page.locator('.quick-input-widget input.input');
  }
}
