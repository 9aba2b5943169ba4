/** A part of a template: a text, or a column (by position) or field (by key) with the least number of figures. */
export type TemplatePart =
  | string
  | { readonly column: number; readonly figures: number }
  | { readonly field: string; readonly figures: number };

/** A text with places for values, taken apart. */
export type Template = readonly TemplatePart[];

/** A template as typed: texts and what stands between braces; undefined where a brace has no other. */
export function splitTemplate(
  text: string,
): readonly (string | { readonly name: string; readonly figures: number })[] | undefined {
  const parts = text.split(/(\{[^{}]*\})/).filter((part) => part !== '');
  const split = parts.map((part) => {
    const [, name, figures = '0'] = /^\{(.*?)(?::(\d{1,2}))?\}$/s.exec(part) ?? [];
    return name === undefined ? part : { name: name.trim(), figures: Number(figures) };
  });
  return split.some((part) => typeof part === 'string' && /[{}]/.test(part)) ? undefined : split;
}

/** What fills the places: the text of a column or field; undefined where there is none. */
export interface Filling {
  readonly column: (column: number) => string | undefined;
  readonly field: (name: string) => string | undefined;
}

/** The template filled in, or the first part that nothing fills. */
export function fillTemplate(
  template: Template,
  filling: Filling,
): { readonly text: string } | { readonly empty: Exclude<TemplatePart, string> } {
  let text = '';
  for (const part of template) {
    if (typeof part === 'string') {
      text += part;
      continue;
    }
    const value = 'column' in part ? filling.column(part.column) : filling.field(part.field);
    if (value === undefined) return { empty: part };
    text += /^\d+$/.test(value) ? value.padStart(part.figures, '0') : value;
  }
  return { text };
}
