/** Board and revision of a name as conditions write it, BOARD/REV: a board's id holds no `/`, a revision may. Without one all is the board. */
export function splitRevision(name: string): { readonly board: string; readonly rev: string } {
  const slash = name.indexOf('/');
  return slash < 0 ? { board: name, rev: '' } : { board: name.slice(0, slash), rev: name.slice(slash + 1) };
}
