import type { Moment } from './record-writer.ts';

/** How a maker prints the date of manufacture. */
export type DateScheme = 'iso_week' | 'iso_day' | 'fiscal_week' | 'calendar';

export interface Maker {
  readonly id: string;
  readonly name: string;
  readonly oui: string;
  readonly scheme: DateScheme;
}

/**
 * What a swap must meet in a family, or it gets no further than the stage below `blocks`.
 * `rom`: the patient's adaptives on the board. `revision`: the same revision or one claimed to stand in. The rest: a key alike.
 */
export type Factor = 'rom' | 'revision' | 'contact_pads' | 'preamp' | 'firmware' | 'head_stack_code';

export interface Family {
  readonly id: string;
  readonly name: string;
  readonly maker: Maker;
  readonly prefix: string;
  readonly interface: 'pata' | 'sata' | 'sas' | 'usb';
  readonly formFactor: '2.5in' | '3.5in';
  readonly rpm: number;
  readonly recording: 'cmr' | 'smr';
  readonly capacities: readonly number[];
  readonly heads: { readonly min: number; readonly max: number };
  readonly made: { readonly from: number; readonly to: number };
  readonly encryption: 'none' | 'optional' | 'always';
  /** Where the adaptives are in truth, and whether the record says so. */
  readonly storedIn: 'rom_chip' | 'controller' | 'platters';
  readonly isStoredInRecorded: boolean;
  readonly hostNeeds: readonly string[];
  readonly firmwareFollows: 'platters' | 'board';
  readonly factors: ReadonlySet<Factor>;
  /** What the drives of the family may be: truth, recorded or not. */
  readonly firmwares: readonly string[];
  readonly preamps: readonly string[];
  readonly headStacks: readonly string[];
  readonly sites: readonly string[];
  readonly country: string;
}

export interface Revision {
  readonly rev: string;
  readonly controller: string;
  readonly isControllerRecorded: boolean;
  readonly motorDrivers: readonly string[];
  readonly ramMb: number;
  readonly pads: number;
  readonly arePadsRecorded: boolean;
  readonly dropInFor: readonly string[];
}

export interface Board {
  readonly id: string;
  readonly partNumber: string;
  readonly family: Family;
  readonly romPackage: string;
  readonly romBytes: number;
  readonly romVolts: number;
  readonly revisions: readonly Revision[];
}

export interface Drive {
  readonly id: string;
  readonly family: Family;
  readonly isLooseBoard: boolean;
  readonly model: string;
  readonly partNumber: string;
  readonly serialTail: string;
  readonly wwn: string;
  readonly firmware: string;
  readonly made: Made;
  readonly site: string;
  readonly capacityGb: number;
  readonly lbaCount: number;
  readonly heads: number;
  readonly headStack: string;
  readonly preamp: string;
  readonly isPreampRecorded: boolean;
  readonly board: Board;
  readonly revision: Revision;
  readonly motorDriver: string;
  readonly powerOnHours: number;
  readonly data: 'wanted' | 'test' | 'none';
  /** Whether its own board is dead, so that only another board can show what the rest is worth. */
  readonly isBoardDead: boolean;
}

/** A date of manufacture as recorded, its code as printed, and the last day it may mean, counted from 1970. */
export interface Made {
  readonly made: Moment;
  readonly code: string;
  readonly lastDay: number;
}
