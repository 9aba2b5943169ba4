import { ErrorCodes, ResponseError } from 'vscode-languageserver';

/** The answer to what was asked wrongly: of something that is not there, or in a form that is none. */
export function refused(message: string): ResponseError<void> {
  return new ResponseError(ErrorCodes.InvalidParams, message);
}
