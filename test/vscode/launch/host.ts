import type { Page } from 'playwright-core';

/** A running VS Code whose window is a page, over one folder. */
export interface Host {
  /** Address of its window. */
  readonly url: string;
  /** To be done with a page before it goes there. */
  readonly prepare: (page: Page) => Promise<void>;
  readonly stop: () => Promise<void>;
}

/** What a host is started with. */
export interface HostOptions {
  /** Folder that the window opens. */
  readonly folder: string;
  /** Folder of the extension under development; undefined where it is installed, or not wanted. */
  readonly extension?: string;
  /** A bundle that is run in the extension host. */
  readonly suite?: string;
  /** Settings besides those that keep the window quiet. */
  readonly settings?: Readonly<Record<string, unknown>>;
}

/** Settings of a window that shows nothing of its own accord. */
export const quietSettings = {
  // Words of other files would stand among what is completed.
  'editor.wordBasedSuggestions': 'off',
  'extensions.autoCheckUpdates': false,
  'extensions.ignoreRecommendations': true,
  'git.enabled': false,
  'security.workspace.trust.enabled': false,
  'telemetry.telemetryLevel': 'off',
  'update.mode': 'none',
  'window.commandCenter': false,
  'workbench.enableExperiments': false,
  'workbench.secondarySideBar.defaultVisibility': 'hidden',
  'workbench.startupEditor': 'none',
  'workbench.tips.enabled': false,
  'workbench.welcomePage.walkthroughs.openOnInstall': false,
};
