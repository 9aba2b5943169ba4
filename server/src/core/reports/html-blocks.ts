import type { Finding, Place } from '../checks/finding.ts';
import type { Severity } from '../terms/severities.ts';
import { type Block, type Cell, type Column, cellText, type Figure, type Item } from './document.ts';
import { Html } from './html.ts';
import { drawingHtml } from './html-drawing.ts';
import { inline, linked, withoutMarks } from './html-inline.ts';
import { checkAnchor, figureAnchor, type Link, lineAnchor, type PageLinks, partAnchor } from './page-links.ts';
import type { PlaceBook } from './place-book.ts';

const { element } = Html;

/** Renders the blocks of one page, one after the other. */
export class BlockRenderer {
  /** Anchors that are given: a line may have several findings. */
  private readonly anchors = new Set<string>();
  private parts = 0;
  private figures = 0;

  constructor(
    private readonly book: PlaceBook,
    private readonly links: PageLinks,
  ) {}

  /** A block as markup. Headings keep their level; those of level 2 begin the parts of a page, whose anchors are counted. */
  render(block: Block): Html {
    switch (block.kind) {
      case 'heading':
        return element(
          `h${block.level}`,
          block.level === 1 ? {} : { id: partAnchor(this.parts++) },
          inline(block.text),
        );
      case 'paragraph':
        return element('p', {}, inline(block.text));
      case 'caution':
        return element('p', { class: 'caution', role: 'note' }, inline(block.text));
      case 'items':
        return element(
          'div',
          { class: 'items' },
          block.items.map((item) => this.item(item)),
        );
      case 'findings':
        return element(
          'ul',
          { class: 'findings' },
          block.findings.map((finding) => this.finding(finding)),
        );
      case 'checks':
        return element('div', { class: 'checks' }, block.checks.map(checkDetails));
      case 'table':
        return this.table(block);
      case 'figure':
        return this.figure(block);
    }
  }

  private figure({ caption, description, drawing }: Figure): Html {
    const id = figureAnchor(this.figures++);
    // Names and descriptions of a drawing are mere text: backticks would be read out.
    const [name, says] = [withoutMarks(caption), withoutMarks(description)];
    return element(
      'figure',
      { id },
      element('figcaption', {}, inline(caption)),
      scrolling(name, drawingHtml(drawing, { id, name, says })),
    );
  }

  private item({ name, lines, place }: Item): Html {
    const title = place ? linked(inline(name), this.links.toPlace(place)) : inline(name);
    return element(
      'div',
      {},
      element('h3', {}, title),
      lines.map((line) => element('p', {}, inline(line))),
    );
  }

  private finding({ severity, check, record, place, message, help, related }: Finding): Html {
    const shown = this.book.show(place);
    const head = element(
      'p',
      { class: 'head' },
      severitySign(severity),
      record === undefined ? undefined : [' ', element('span', { class: 'record' }, record)],
      ' ',
      element('span', { class: 'check' }, linked(check, this.links.toCheck(check))),
      ' ',
      this.place(place),
    );
    return element(
      'li',
      { class: `finding ${severity}`, id: shown && this.newAnchor(lineAnchor(shown.file, shown.line)) },
      head,
      element('p', { class: 'message' }, inline(message)),
      help === undefined ? undefined : element('p', { class: 'help' }, inline(help)),
      this.excerpt(place),
      related.length === 0
        ? undefined
        : element(
            'ul',
            { class: 'related' },
            related.map((one) => this.related(one)),
          ),
    );
  }

  private related({ place, message }: Finding['related'][number]): Html {
    return element('li', {}, this.place(place), ' ', inline(message));
  }

  private place(place: Place): Html {
    const shown = this.book.show(place);
    const text = shown ? `${place.file}:${shown.line}` : place.file;
    return element('span', { class: 'place' }, linked(text, this.links.toPlace(place)));
  }

  private excerpt(place: Place): Html | undefined {
    const shown = this.book.show(place);
    if (!shown?.excerpt) return undefined;
    const { before, marked, after } = shown.excerpt;
    const number = element('span', { class: 'line', 'aria-hidden': 'true' }, shown.line, ' ');
    return element(
      'pre',
      {},
      number,
      element('code', {}, before, marked === '' ? undefined : element('mark', {}, marked), after),
    );
  }

  private table({ caption, columns, rows }: Extract<Block, { kind: 'table' }>): Html {
    const head = columns.map(({ title, align }) => element('th', { scope: 'col', class: align }, title));
    const body = rows.map((row) =>
      element(
        'tr',
        {},
        columns.map((column, at) => this.cell(column, row[at] ?? '', at)),
      ),
    );
    const table = element(
      'table',
      {},
      element('caption', {}, caption),
      element('thead', {}, element('tr', {}, head)),
      element('tbody', {}, body),
    );
    return scrolling(caption, table);
  }

  private cell({ align, isShort }: Column, cell: Cell, column: number): Html {
    const names = [align, ...(isShort === true ? ['short'] : []), ...(column > 0 && cell === 0 ? ['zero'] : [])].join(
      ' ',
    );
    const text = inline(cellText(cell));
    const content = typeof cell === 'object' ? linked(text, this.linkOf(cell)) : text;
    return column === 0
      ? element('th', { scope: 'row', class: names }, content)
      : element('td', { class: names }, content);
  }

  private linkOf(cell: Extract<Cell, object>): Link | undefined {
    return 'place' in cell ? this.links.toPlace(cell.place) : this.links.toReport(cell.report);
  }

  private newAnchor(anchor: string): string | undefined {
    if (this.anchors.has(anchor)) return undefined;
    this.anchors.add(anchor);
    return anchor;
  }
}

/** Something wide in a frame of its own. Who uses a keyboard scrolls what has the focus. */
function scrolling(name: string, content: Html): Html {
  return element('div', { class: 'scroll', role: 'region', 'aria-label': name, tabindex: 0 }, content);
}

function checkDetails({ check, why }: Extract<Block, { kind: 'checks' }>['checks'][number]): Html {
  const summary = element('summary', {}, element('code', {}, check));
  return element('details', { id: checkAnchor(check) }, summary, element('p', {}, inline(why)));
}

/** Words and marks of severities: no two have the same shape, so that nobody needs to see colours. */
const signs: Readonly<Record<Severity, { readonly word: string; readonly shape: string }>> = {
  error: { word: 'error', shape: 'M5 1h6l4 4v6l-4 4H5l-4-4V5z' },
  warning: { word: 'warning', shape: 'M8 1l7.5 14H.5z' },
  info: { word: 'note', shape: 'M8 2a6 6 0 1 0 0 12A6 6 0 0 0 8 2zm0 2a4 4 0 1 1 0 8 4 4 0 0 1 0-8z' },
};

function severitySign(severity: Severity): Html {
  const { word, shape } = signs[severity];
  const sign = element('svg', { viewBox: '0 0 16 16', 'aria-hidden': 'true' }, element('path', { d: shape }));
  return element('span', { class: 'severity' }, sign, word);
}
