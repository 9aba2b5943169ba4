import type { Day } from '../core/terms/calendar.ts';
import type { BaseStore } from '../host/base-store.ts';
import type { RevisionReader } from '../host/revision-reader.ts';
import type { Pauses } from '../host/run-in-slices.ts';

/** What a server needs of the machine it runs on, and of the client's files. */
export interface World extends Pauses {
  /** Where files with this address lie; undefined for addresses nobody here can read. */
  storeFor(uri: string): BaseStore | undefined;
  /** The history that files with this address lie in; undefined where nobody here can read it. */
  revisionsFor(uri: string): RevisionReader | undefined;
  /** The system's date where the system is. */
  today(): Day;
}
