/** What a client has open and the bases it belongs to. */

import type { Location } from 'vscode-languageserver';
import { configPath } from '../core/checks/config-invalid.ts';
import type { Place } from '../core/checks/finding.ts';
import { spanOf } from '../core/checks/resolve-place.ts';
import { addTo } from '../core/terms/grouped.ts';
import { runInSlices } from '../host/run-in-slices.ts';
import { baseAround } from './base-around.ts';
import { BaseSession } from './base-session.ts';
import type { Opened } from './feature.ts';
import type { TextDocument } from './text-document.ts';
import type { Encoding } from './text-positions.ts';
import { canonicalUri, folderOf, pathBelow } from './uris.ts';
import type { World } from './world.ts';

/** Whom a workspace tells what. */
export interface WorkspaceOptions {
  readonly world: World;
  readonly encoding: Encoding;
  /** Called with every base that is found; gives what is to be called when it changes, has to be loaded, or is gone. */
  readonly onBase: (base: BaseSession) => { changed(): void; outdated(): void; gone(): void };
}

/** The bases and open documents of one client. */
export class Workspace {
  private readonly folders = new Set<string>();
  private readonly sessions = new Map<string, { readonly base: BaseSession; readonly gone: () => void }>();
  private readonly documents = new Map<string, TextDocument>();
  /** Where open documents belong, by address. */
  private readonly homes = new Map<string, BaseSession>();
  /** Documents and bases are put where they belong in turn. */
  private turn: Promise<void> = Promise.resolve();
  private searched: Promise<unknown> = Promise.resolve();

  constructor(private readonly options: WorkspaceOptions) {}

  /** All bases, in the order they were found. */
  get bases(): readonly BaseSession[] {
    return Array.from(this.sessions.values(), ({ base }) => base);
  }

  /** Resolves when what was opened so far is where it belongs. */
  get prepared(): Promise<void> {
    return this.turn;
  }

  /** Resolves when the bases in and around all folders are found. */
  async found(): Promise<void> {
    await this.searched;
  }

  /** The open document with this address, whether or not it belongs to a base. */
  find(uri: string): TextDocument | undefined {
    return this.documents.get(canonicalUri(uri));
  }

  /** The same with its base; undefined where it belongs to none. */
  look(uri: string): Opened | undefined {
    const address = canonicalUri(uri);
    const document = this.documents.get(address);
    const base = this.homes.get(address);
    const path = base?.pathOf(address);
    if (!document || !base || path === undefined) return undefined;
    const { uri: spelt, version, positions } = document;
    return { file: base.openFile(path, document), base, uri: spelt, version, positions };
  }

  /** A document was opened. */
  open(document: TextDocument): void {
    const address = canonicalUri(document.uri);
    this.documents.set(address, document);
    void this.inTurn(() => this.bringHome(address));
  }

  /** An open document has another text. */
  change(document: TextDocument): void {
    const address = canonicalUri(document.uri);
    this.documents.set(address, document);
    const base = this.homes.get(address);
    const path = base?.pathOf(address);
    if (base && path !== undefined) base.show(path, document);
  }

  /** A document was closed; what is saved of it counts again. */
  close(uri: string): void {
    const address = canonicalUri(uri);
    this.documents.delete(address);
    void this.inTurn(async () => {
      const base = this.homes.get(address);
      this.homes.delete(address);
      const path = base && pathBelow(base.root, address);
      if (base && path !== undefined && base.opened.has(path)) await base.hide(path);
    });
  }

  /** Finds the bases in and around a folder. */
  addFolder(uri: string): Promise<void> {
    const folder = canonicalUri(uri);
    this.folders.add(folder);
    const done = this.search(folder);
    this.searched = Promise.all([this.searched, done.catch(() => undefined)]);
    return done;
  }

  /** A folder is the client's no longer: bases that neither another folder nor an open document leads to are let go. */
  removeFolder(uri: string): Promise<void> {
    this.folders.delete(canonicalUri(uri));
    return this.inTurn(async () => {
      const used = new Set(this.homes.values());
      for (const [root, { base, gone }] of this.sessions) {
        const isFound = [...this.folders].some(
          (folder) => `${root}/`.startsWith(`${folder}/`) || folder.startsWith(`${root}/`),
        );
        if (isFound || used.has(base)) continue;
        this.sessions.delete(root);
        gone();
      }
    });
  }

  private async search(folder: string): Promise<void> {
    const store = this.options.world.storeFor(folder);
    const above = await store?.findAbove(folder);
    // A large folder takes its time, and nobody is to wait for it who has a document open.
    const below = (await store?.findBelow(folder)) ?? [];
    await this.inTurn(async () => {
      for (const root of above === undefined ? below : [above, ...below]) await this.openBase(root);
    });
  }

  /** Other files belong to a base now than did: open documents may be among them. */
  sort(base: BaseSession): Promise<void> {
    return this.inTurn(async () => {
      for (const [address, document] of this.documents) {
        const path = this.homes.get(address) === base ? pathBelow(base.root, address) : undefined;
        if (path === undefined) continue;
        const belongs = base.pathOf(address) !== undefined;
        if (belongs && !base.opened.has(path)) base.show(path, document);
        if (!belongs && base.opened.has(path)) await base.hide(path);
      }
    });
  }

  /** Files were saved, made or removed by somebody, or folders removed. */
  filesChanged(uris: readonly string[]): Promise<void> {
    return this.inTurn(async () => {
      const groups = new Map<BaseSession, string[]>();
      for (const address of uris.map(canonicalUri)) {
        if (address.endsWith(`/${configPath}`)) await this.configChanged(address);
        const base = baseAround(this.bases, address);
        if (base) addTo(groups, base, address);
      }
      for (const [base, addresses] of groups) {
        const paths = base.pathsAt(addresses);
        if (paths.length > 0) await base.reread(paths);
      }
    });
  }

  /** Places as an editor jumps to them, one for one; undefined for those whose file holds something else by now. */
  async locate(base: BaseSession, places: readonly Place[]): Promise<readonly (Location | undefined)[]> {
    const texts = await base.textsOf([...new Set(places.map(({ file }) => file))]);
    return places.map(({ file, contentId, target }) => {
      const text = texts.get(file);
      if (!text || text.contentId !== contentId) return undefined;
      return { uri: base.uriOf(file), range: text.positions.rangeOf(spanOf(text.tape, target)) };
    });
  }

  private inTurn(task: () => Promise<void>): Promise<void> {
    const done = this.turn.then(task);
    this.turn = done.catch(() => undefined);
    return done;
  }

  private async bringHome(address: string): Promise<void> {
    const document = this.documents.get(address);
    if (!document) return;
    const root = await this.options.world.storeFor(address)?.findAbove(folderOf(address));
    const base = root === undefined ? undefined : await this.openBase(root);
    const newest = this.documents.get(address);
    if (!base || !newest) return;
    this.homes.set(address, base);
    const path = base.pathOf(address);
    if (path !== undefined) base.show(path, newest);
  }

  private async openBase(uri: string): Promise<BaseSession | undefined> {
    const root = canonicalUri(uri);
    const known = this.sessions.get(root);
    const store = this.options.world.storeFor(root);
    if (known || !store) return known?.base;
    let told: ReturnType<WorkspaceOptions['onBase']> | undefined;
    const base = await BaseSession.of({
      root,
      reader: store.open(root),
      encoding: this.options.encoding,
      inSlices: (work) => runInSlices(work, this.options.world, () => false),
      onChange: () => told?.changed(),
      onOutdated: () => told?.outdated(),
    });
    const calls = this.options.onBase(base);
    told = calls;
    this.sessions.set(root, { base, gone: () => calls.gone() });
    calls.outdated();
    return base;
  }

  /** A folder may have become a base, or be none any more. What was open in or around it belongs elsewhere then. */
  private async configChanged(address: string): Promise<void> {
    const folder = folderOf(address);
    const found = await this.options.world.storeFor(folder)?.findAbove(folder);
    const isBase = found !== undefined && canonicalUri(found) === folder;
    if (isBase === this.sessions.has(folder)) return;
    const outer = baseAround(this.bases, folder);
    const left = this.sessions.get(folder);
    this.sessions.delete(folder);
    left?.gone();
    if (isBase) await this.openBase(folder);
    // Its files are the outer base's no longer, or again.
    if (outer && outer !== left?.base) await outer.load(() => undefined);
    for (const inside of this.documents.keys()) {
      if (!inside.startsWith(`${folder}/`)) continue;
      const base = this.homes.get(inside);
      this.homes.delete(inside);
      const path = base && pathBelow(base.root, inside);
      if (base && base !== left?.base && path !== undefined) await base.hide(path);
      await this.bringHome(inside);
    }
  }
}
