import { captureOf } from '../../server/src/core/captures/capture-file.ts';
import { decode } from '../../server/src/core/captures/decode.ts';
import { captureText } from '../../server/src/core/captures/write-capture.ts';
import { encodeIdentify } from './encode-identify.ts';
import { encodeSmartData } from './encode-smart-data.ts';
import { asciiBytes, encodeVpd, encodeVpd83, encodeVpd89, hexBytes } from './encode-vpd.ts';

/** What of a drive's answers changes with time. */
interface Counters {
  readonly hours: number;
  readonly cycles: number;
  readonly reallocated: number;
  readonly celsius: number;
}

/** What a drive answers all its life. The drives are invented, and so are the numbers that the base masks. */
interface Answers {
  readonly serial: string;
  readonly wwn: string;
}

const guineaPig: Answers = { serial: '11H43-07HQ2', wwn: '50e5a17004c1d93e' };
const twin: Answers = { serial: '11H45-0KX94', wwn: '50e5a17004c2a07b' };

/** What stands nowhere in the base. */
export const demoSerials = [guineaPig.serial, twin.serial];

/** Two drives of one lot on their own boards, each on the other's, and on their own again, by the files' names. */
const asked: Readonly<Record<string, { readonly taken: string } & Answers & Counters>> = {
  'd-0311-2024-09-19': { taken: '2024-09-19', ...guineaPig, hours: 21480, cycles: 1186, reallocated: 0, celsius: 27 },
  'd-0312-2024-09-19': { taken: '2024-09-19', ...twin, hours: 8733, cycles: 642, reallocated: 3, celsius: 26 },
  'd-0311-on-0312-2024-09-19': {
    taken: '2024-09-19',
    ...guineaPig,
    hours: 21480,
    cycles: 1187,
    reallocated: 0,
    celsius: 28,
  },
  'd-0311-2024-09-24': { taken: '2024-09-24', ...guineaPig, hours: 21488, cycles: 1192, reallocated: 0, celsius: 26 },
  'd-0312-2024-09-24': { taken: '2024-09-24', ...twin, hours: 8735, cycles: 645, reallocated: 3, celsius: 26 },
  'd-0312-on-0311-2024-09-24': {
    taken: '2024-09-24',
    ...twin,
    hours: 8735,
    cycles: 647,
    reallocated: 3,
    celsius: 27,
  },
};

/** The text of every capture of the demo base, by the name of its file. */
export function demoCaptures(): Readonly<Record<string, string>> {
  return Object.fromEntries(
    Object.entries(asked).map(([name, { taken, ...answers }]) => [
      `${name}.json`,
      captureText(captureOf({ taken, serials: 'masked', sources: sourcesOf(answers) })),
    ]),
  );
}

function sourcesOf({ serial, wwn, hours, cycles, reallocated, celsius }: Answers & Counters) {
  const identify = encodeIdentify({
    serial,
    wwn,
    model: 'TNS2-1000',
    firmware: 'T231',
    lbaCount: 1_953_525_168,
    logicalSectorBytes: 512,
    rpm: 7200,
    formFactor: 2,
    transport: 'sata',
  });
  const smart = encodeSmartData([
    { id: 1, raw: 0 },
    { id: 3, raw: 5120 },
    { id: 5, raw: reallocated },
    { id: 9, raw: hours },
    { id: 12, raw: cycles },
    { id: 194, raw: celsius },
    { id: 197, raw: 0 },
    { id: 198, raw: 0 },
  ]);
  const answers = {
    vpd_pg80: encodeVpd(0x80, asciiBytes(serial)),
    vpd_pg83: encodeVpd83([{ type: 3, codeSet: 1, content: hexBytes(wwn) }]),
    vpd_pg89: encodeVpd89(identify),
    smart_data: smart,
  };
  return Object.entries(answers).map(([name, bytes]) => ({ name, bytes, decoded: decode(bytes) }));
}
