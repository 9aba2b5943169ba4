import { ErrorCodes, LSPErrorCodes, ResponseError } from 'vscode-languageserver';
import { baseAround } from './base-around.ts';
import type { BaseSession } from './base-session.ts';
import { refused } from './refused.ts';
import { canonicalUri } from './uris.ts';

/** The base around an address, or all where none is given. Throws the answer for what is no address in a base. */
export function basesMeant(bases: readonly BaseSession[], address: unknown): readonly BaseSession[] {
  if (address === undefined || address === null) return bases;
  const base = typeof address === 'string' ? baseAround(bases, `${canonicalUri(address)}/`) : undefined;
  if (base) return [base];
  throw refused(`${JSON.stringify(address)} is no address in a base.`);
}

/** The only one of the bases that are meant. Throws the answer where there is none, or several. */
export function onlyBase(bases: readonly BaseSession[]): BaseSession {
  const [base, ...others] = bases;
  if (!base) throw new ResponseError(LSPErrorCodes.RequestFailed, 'There is no base here.');
  if (others.length === 0) return base;
  const names = bases.map(({ name }) => name).join(', ');
  throw new ResponseError(
    ErrorCodes.InvalidParams,
    `There are several bases here: ${names}. The address of a file in one of them says which is meant.`,
  );
}

/** The only base, or of several the one around an address. Throws the answer where that leaves none, or several. */
export function baseMeant(bases: readonly BaseSession[], address: unknown): BaseSession {
  return onlyBase(bases.length > 1 ? basesMeant(bases, address) : bases);
}
