import {
  type CancellationToken,
  commands,
  Disposable,
  EventEmitter,
  MarkdownString,
  ThemeColor,
  ThemeIcon,
  type TreeDataProvider,
  TreeItem,
  TreeItemCollapsibleState,
  Uri,
  window,
} from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  type BaseState,
  type SentTreeNode,
  type TreeDetail,
  treeChildrenRequest,
  treeDetailRequest,
} from '../../server/src/lsp/protocol.ts';
import { messageOf } from './message-of.ts';
import { recordsView } from './view-rows.ts';

/** Quiet time before the tree is asked for again, so that it does not change with every letter somebody types. */
const quietMs = 500;

/** Goes to the record of an element. It needs one, so that no palette has it. */
const openCommand = 'swaplore.openRecord';

/** What the tree is made of: bases where there are several, nodes the server tells of, and words where there is nothing to list. */
export type TreeElement = { readonly root: string } & (
  | { readonly base: BaseState }
  | { readonly node: SentTreeNode }
  | { readonly says: string; readonly icon: string }
);

/** What the tree is made from, as it is at any time. */
export interface TreeSources {
  readonly bases: () => readonly BaseState[];
  /** Undefined while no server runs. */
  readonly client: () => BaseLanguageClient | undefined;
}

/** The records of all bases as a tree, read level by level as somebody opens it. */
export class BaseTree implements TreeDataProvider<TreeElement>, Disposable {
  private readonly changes = new EventEmitter<undefined>();
  readonly onDidChangeTreeData = this.changes.event;
  private timer: ReturnType<typeof setTimeout> | undefined;
  private readonly parts: Disposable;

  constructor(private readonly sources: TreeSources) {
    this.parts = Disposable.from(
      this.changes,
      window.createTreeView(recordsView.id, { treeDataProvider: this, showCollapseAll: true }),
      commands.registerCommand(openCommand, (element: TreeElement) => this.open(element)),
    );
  }

  /** To be called when the bases are others, or stand otherwise. */
  outdate(): void {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.changes.fire(undefined), quietMs);
  }

  async getChildren(element?: TreeElement): Promise<TreeElement[]> {
    if (element)
      return 'says' in element ? [] : this.listBelow(element.root, 'node' in element ? element.node : undefined);
    const bases = [...this.sources.bases()].sort((a, b) => (a.name + a.root < b.name + b.root ? -1 : 1));
    const [base, ...others] = bases;
    if (!base) return [];
    return others.length > 0
      ? bases.map((one) => ({ root: one.root, base: one }))
      : this.listBelow(base.root, undefined);
  }

  getTreeItem(element: TreeElement): TreeItem {
    if ('says' in element) return messageItem(element);
    return 'node' in element ? nodeItem(element) : baseItem(element.base);
  }

  async resolveTreeItem(item: TreeItem, element: TreeElement, token: CancellationToken): Promise<TreeItem> {
    const detail = await this.detailOf(element, token);
    return detail ? Object.assign(item, { tooltip: new MarkdownString(detail.tooltip) }) : item;
  }

  dispose(): void {
    clearTimeout(this.timer);
    this.parts.dispose();
  }

  private async listBelow(root: string, node: SentTreeNode | undefined): Promise<TreeElement[]> {
    const about = { uri: root, ...(node && { key: node.key }) };
    try {
      const nodes = (await this.sources.client()?.sendRequest(treeChildrenRequest, about)) ?? [];
      if (nodes.length > 0 || node) return nodes.map((one) => ({ root, node: one }));
      return [{ root, says: 'No record yet', icon: 'info' }];
    } catch (error) {
      return [{ root, says: messageOf(error), icon: 'warning' }];
    }
  }

  private async detailOf(element: TreeElement, token?: CancellationToken): Promise<TreeDetail | null | undefined> {
    if (!('node' in element)) return undefined;
    const about = { uri: element.root, key: element.node.key };
    return this.sources.client()?.sendRequest(treeDetailRequest, about, token);
  }

  private async open(element: TreeElement): Promise<void> {
    const client = this.sources.client();
    const detail = await this.detailOf(element);
    // What was listed is gone, and the tree about to follow.
    if (!client || !detail?.location) return;
    const { uri, range: selection } = client.protocol2CodeConverter.asLocation(detail.location);
    await window.showTextDocument(uri, { selection });
  }
}

function baseItem({ name, root }: BaseState): TreeItem {
  const item = new TreeItem(name, TreeItemCollapsibleState.Expanded);
  const { path } = Uri.parse(root);
  const accessibilityInformation = { label: `Base ${name}, ${path}` };
  return Object.assign(item, {
    id: root,
    description: path,
    iconPath: new ThemeIcon('library'),
    accessibilityInformation,
  });
}

function nodeItem({ root, node }: TreeElement & { readonly node: SentTreeNode }): TreeItem {
  const { Collapsed, None } = TreeItemCollapsibleState;
  const item = new TreeItem(node.label, node.isCollapsible ? Collapsed : None);
  const uri = node.uri === undefined ? undefined : Uri.parse(node.uri);
  return Object.assign(item, {
    id: `${root} ${node.key}`,
    description: node.description,
    iconPath: icons[node.icon],
    accessibilityInformation: { label: node.spoken },
    // By their files the editor marks records that something was found in.
    ...(uri && {
      resourceUri: uri,
      command: { command: openCommand, title: 'Open Record', arguments: [{ root, node }] },
    }),
  });
}

function messageItem({ says, icon }: { readonly says: string; readonly icon: string }): TreeItem {
  const item = new TreeItem(says, TreeItemCollapsibleState.None);
  return Object.assign(item, { iconPath: new ThemeIcon(icon), tooltip: says });
}

/** Shapes tell outcomes apart, and colours as well. */
const icons: Readonly<Record<SentTreeNode['icon'], ThemeIcon>> = {
  maker: new ThemeIcon('organization'),
  family: new ThemeIcon('layers'),
  board: new ThemeIcon('circuit-board'),
  drive: new ThemeIcon('database'),
  outcome: new ThemeIcon('beaker'),
  rule: new ThemeIcon('law'),
  works: new ThemeIcon('check', new ThemeColor('testing.iconPassed')),
  fails: new ThemeIcon('close', new ThemeColor('testing.iconFailed')),
  inconclusive: new ThemeIcon('question', new ThemeColor('testing.iconQueued')),
  retracted: new ThemeIcon('archive', new ThemeColor('disabledForeground')),
};
