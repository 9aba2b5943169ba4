import { createHash } from 'node:crypto';
import { pageStyle } from '../core/reports/page-style.ts';

/** What the policy of pages in files names their style by, as in `sha256-…`. */
export function styleHash(): string {
  return `sha256-${createHash('sha256').update(pageStyle).digest('base64')}`;
}
