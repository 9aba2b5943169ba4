import type { Place } from '../checks/finding.ts';
import type { Href } from './html.ts';
import type { ReportName } from './report-name.ts';

/** What a page leads to: another part of the pages, or something its host shows when asked: a place by its number, or another report. */
export type Link = { readonly href: Href } | { readonly place: number } | { readonly report: ReportName };

/** Where the parts of a page lead to. Undefined where there is nothing to lead to. */
export interface PageLinks {
  readonly toPlace: (place: Place) => Link | undefined;
  readonly toCheck: (check: string) => Link | undefined;
  readonly toReport: (report: ReportName) => Link | undefined;
}

/** The anchor of a line of a file: no two lines share one. Only these anchors hold a colon, so that no name of a file is taken for another one. */
export function lineAnchor(file: string, line: number): string {
  return `${anchorText(file)}:${line}`;
}

/** The anchor of what is said of a check. */
export function checkAnchor(check: string): string {
  return `check-${anchorText(check)}`;
}

/** The anchor of a part of a page, counted from 0. */
export function partAnchor(position: number): string {
  return `part-${position + 1}`;
}

/** The anchor of a figure of a page, counted from 0. */
export function figureAnchor(position: number): string {
  return `figure-${position + 1}`;
}

function anchorText(text: string): string {
  return text.replace(/[^\w./-]|_/g, (unit) => `_${unit.charCodeAt(0).toString(16)}_`);
}
