import type { Drawing, Mark } from './drawing.ts';
import { type Child, Html } from './html.ts';

const { element } = Html;

/** A drawing as SVG, with its name and what it comes to for those who do not see it. `id` is one that no other part of the page has. */
export function drawingHtml(
  { width, height, marks }: Drawing,
  { id, name, says }: { readonly id: string; readonly name: Child; readonly says: Child },
): Html {
  const [nameId, saysId] = [`${id}-name`, `${id}-says`];
  return element(
    'svg',
    { viewBox: `0 0 ${width} ${height}`, role: 'img', 'aria-labelledby': nameId, 'aria-describedby': saysId },
    element('title', { id: nameId }, name),
    element('desc', { id: saysId }, says),
    marks.map(markHtml),
  );
}

function markHtml(mark: Mark): Html {
  switch (mark.shape) {
    case 'bar': {
      const { tone, x, y, width, height } = mark;
      return element('rect', { class: tone, x, y, width, height });
    }
    case 'line': {
      const [[x1, y1], [x2, y2]] = [mark.from, mark.to];
      return element('line', {
        class: [mark.tone, mark.stroke].filter((name) => name !== undefined).join(' '),
        x1,
        y1,
        x2,
        y2,
      });
    }
    case 'label':
      return element('text', { x: mark.x, y: mark.y, 'text-anchor': mark.anchor }, mark.text);
  }
}
