import { type DefaultTreeAdapterTypes, parse } from 'parse5';

type Node = DefaultTreeAdapterTypes.ChildNode;

/** An element of a page as a browser's parser reads it. */
export interface PageElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  /** Text of it and of all in it. */
  readonly text: string;
  /** Names of the elements around it, the outermost first. */
  readonly within: readonly string[];
}

/** A page as it is read. */
export interface ReadPage {
  /** In the order of the page. */
  readonly elements: readonly PageElement[];
  readonly comments: number;
  /** What the parser objects to, by the standard's names. Source: HTML Living Standard, "Parse errors". */
  readonly errors: readonly string[];
}

/** Reads a page by the algorithm of the standard. */
export function readPage(html: string): ReadPage {
  const errors: string[] = [];
  const document = parse(html, { onParseError: ({ code }) => errors.push(code) });
  const elements: PageElement[] = [];
  let comments = 0;
  const visit = (node: Node, within: readonly string[]): void => {
    if (node.nodeName === '#comment') comments++;
    if (!('tagName' in node)) return;
    const attributes = Object.fromEntries(node.attrs.map(({ name, value }) => [name, value]));
    elements.push({ name: node.tagName, attributes, text: textOf(node), within });
    for (const child of node.childNodes) visit(child, [...within, node.tagName]);
  };
  for (const child of document.childNodes) visit(child, []);
  return { elements, comments, errors };
}

/** The elements of a name. */
export function named({ elements }: ReadPage, name: string): readonly PageElement[] {
  return elements.filter((element) => element.name === name);
}

function textOf(node: Node): string {
  if ('value' in node) return node.value;
  return 'childNodes' in node ? node.childNodes.map(textOf).join('') : '';
}
