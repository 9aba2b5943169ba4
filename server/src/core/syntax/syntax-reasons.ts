import type { ErrorCode } from 'yaml';

/** What each kind of syntax error means for the person who typed it. One sentence each. */
const reasons: Readonly<Record<ErrorCode, string>> = {
  ALIAS_PROPS: 'An alias cannot carry an anchor or a tag of its own.',
  BAD_ALIAS: 'An anchor or alias has no usable name here.',
  BAD_COLLECTION_TYPE: 'A map or list carries a tag meant for something else.',
  BAD_DIRECTIVE: 'This `%` line is no directive that YAML knows.',
  BAD_DQ_ESCAPE: 'A backslash in a double-quoted text is followed by a letter that has no meaning there.',
  BAD_INDENT:
    'This line is not indented far enough for the list, map or text it belongs to, or a bracket above it was never closed.',
  BAD_PROP_ORDER: 'An anchor or tag has to stand before the value it belongs to.',
  BAD_SCALAR_START: 'A value without quotes cannot begin with this character.',
  BLOCK_AS_IMPLICIT_KEY:
    'A second `:` makes a map inside a value here; a text that contains `: ` has to be quoted, a nested map belongs on its own lines.',
  BLOCK_IN_FLOW: 'An indented list or map cannot stand between brackets.',
  DUPLICATE_KEY: 'This key stands twice in one map.',
  IMPOSSIBLE: 'The YAML reader met something it holds to be impossible.',
  KEY_OVER_1024_CHARS: 'A key longer than 1,024 characters needs a `?` before it.',
  MISSING_CHAR: 'A closing quote, a bracket, a comma, a `:` or a space is missing here.',
  MULTILINE_IMPLICIT_KEY: 'A key has to stand on one line; is a `:` missing, or the indentation off?',
  MULTIPLE_ANCHORS: 'A value can have one anchor only.',
  MULTIPLE_DOCS: 'A second document begins here.',
  MULTIPLE_TAGS: 'A value can have one tag only.',
  NON_STRING_KEY: 'A key has to be text.',
  RESOURCE_EXHAUSTION: 'This is nested more deeply than the YAML reader goes.',
  TAB_AS_INDENT: 'A tab stands where spaces are due; YAML indents with spaces only.',
  TAG_RESOLVE_FAILED: 'This tag does not fit its value.',
  UNEXPECTED_TOKEN: 'This does not belong here; the line above may be indented differently or not be closed.',
};

/** A sentence that says what is wrong with the text, in place of the YAML package's own. */
export function syntaxReason(code: ErrorCode, original: string): string {
  if (code === 'MISSING_CHAR' && original.includes('quote'))
    return 'A quoted text begins before here and is never closed.';
  return reasons[code];
}
