import { SymbolKind } from 'vscode-languageserver';
import { type Kind, kinds } from '../core/terms/kinds.ts';

/** Symbols of kinds of record, told apart by the pictures editors give them; all of those that every client knows. */
const symbolKinds: Readonly<Record<Kind, SymbolKind>> = {
  maker: SymbolKind.Namespace,
  family: SymbolKind.Class,
  board: SymbolKind.Interface,
  drive: SymbolKind.Variable,
  outcome: SymbolKind.Constant,
  rule: SymbolKind.Function,
};

/** The symbol of a record by its kind as typed; that of a file where the kind is absent or unknown. */
export function recordSymbolKind(typed: string | undefined): SymbolKind {
  const kind = kinds.find((known) => known === typed);
  return kind ? symbolKinds[kind] : SymbolKind.File;
}
