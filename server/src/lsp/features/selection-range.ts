import { type SelectionRange, SelectionRangeRequest } from 'vscode-languageserver';
import { enclosingSpans } from '../../core/features/enclosing-spans.ts';
import { defineFeature } from '../feature.ts';

/** What a selection in an open document takes in as it grows. */
export const selectionRange = defineFeature({
  request: SelectionRangeRequest.type,
  capabilities: () => ({ selectionRangeProvider: true }),
  answer: ({ textDocument, positions: asked }, { look }) => {
    const opened = look(textDocument.uri);
    if (!opened) return null;
    const { file, positions } = opened;
    return asked.map((position) => {
      const spans = enclosingSpans(file.tape, positions.offsetAt(position));
      const around = spans.reduceRight<SelectionRange | undefined>(
        (parent, span) => ({ range: positions.rangeOf(span), ...(parent && { parent }) }),
        undefined,
      );
      return around ?? { range: { start: position, end: position } };
    });
  },
});
