import { visible } from '../text/visible.ts';

/** What may stand inside an element: text, which is escaped, and markup made here. */
export type Child = Html | string | number | undefined | readonly Child[];

/** Where a link of a page leads: to an anchor of a file beside it, or of the page itself where no file is named. */
export interface Href {
  readonly file?: string;
  readonly anchor?: string;
}

/** Attributes by name. Those that are undefined are left out; `true` gives one without a value. */
export type Attributes = Readonly<Record<string, string | number | true | Href | undefined>>;

/** Markup that may stand in a page as it is. Only this class makes any, and it escapes every text on the way. */
export class Html {
  private constructor(readonly markup: string) {}

  /** An element with what stands in it. Names of elements and attributes are ours, never out of a file. */
  static element(name: string, attributes: Attributes, ...children: readonly Child[]): Html {
    const start = `<${name}${attributesOf(attributes)}>`;
    return new Html(voidElements.has(name) ? start : `${start}${children.map(markupOf).join('')}</${name}>`);
  }

  /** Our own style or script, whose text a page takes as it is. Throws where the text would end it too early. */
  static own(name: 'style' | 'script', attributes: Attributes, text: string): Html {
    if (/<[/!]/.test(text)) throw new Error(`the text of a ${name} cannot hold markup`);
    return new Html(`<${name}${attributesOf(attributes)}>${text}</${name}>`);
  }

  /** A whole page. */
  static page(attributes: Attributes, ...children: readonly Child[]): string {
    return `<!doctype html>\n${Html.element('html', attributes, ...children).markup}\n`;
  }
}

/** Elements that hold nothing and have no end. */
const voidElements: ReadonlySet<string> = new Set(['meta', 'path']);

/** Text that shows in a page as it is, in elements and in quoted attributes. What nobody would see becomes visible. */
function escapeHtml(text: string): string {
  return visible(text).replace(/[&<>"']/g, (character) => `&#${character.charCodeAt(0)};`);
}

function markupOf(child: Child): string {
  if (child === undefined) return '';
  if (child instanceof Html) return child.markup;
  return typeof child === 'object' ? child.map(markupOf).join('') : escapeHtml(String(child));
}

function attributesOf(attributes: Attributes): string {
  return Object.entries(attributes)
    .map(([name, value]) => {
      if (value === undefined) return '';
      if (value === true) return ` ${name}`;
      return ` ${name}="${escapeHtml(typeof value === 'object' ? addressOf(value) : String(value))}"`;
    })
    .join('');
}

/** Never more than a file and an anchor, so that no text makes an address of another kind. */
function addressOf({ file, anchor }: Href): string {
  return `${file === undefined ? '' : encodeURIComponent(file)}${anchor === undefined ? '' : `#${encodeURIComponent(anchor)}`}`;
}
