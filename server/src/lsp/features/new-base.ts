import { usualKits } from '../../core/starting/ci-kits.ts';
import { newBase as filesOfNewBase } from '../../core/starting/new-base.ts';
import { usualTool } from '../../core/starting/tool.ts';
import { parseDate } from '../../core/terms/calendar.ts';
import { defineFeature } from '../feature.ts';
import { newBaseRequest } from '../protocol.ts';
import { refused } from '../refused.ts';

/** The files that a base begins with, for editors to write: the same that the command line writes. */
export const newBase = defineFeature({
  request: newBaseRequest,
  capabilities: () => ({}),
  answer: ({ name, date }) => {
    const today = parseDate(date);
    if (today === undefined) throw refused(`There is no date \`${date}\`.`);
    if (name.trim() === '') throw refused('The name of a base cannot be empty.');
    return { files: filesOfNewBase({ name, today, kits: usualKits, tool: usualTool }) };
  },
});
