import { decode } from '../../server/src/core/captures/decode.ts';
import { maskSerials } from '../../server/src/core/captures/mask-serials.ts';
import { afterMasking, maskingIntents, readCapture } from '../../server/src/core/captures/read-capture.ts';
import { planEdits } from '../../server/src/core/edits/plan-edits.ts';
import { isRefusal, replaceIn } from '../../server/src/core/edits/text-edit.ts';
import { compareImages } from '../../server/src/core/rom-images/compare-images.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { decodeText } from '../../server/src/core/text/decode.ts';
import { captureFixture, identifyFixtures, vpdFixtures } from '../harness/capture-fixtures.ts';
import { encodeIdentify } from '../harness/encode-identify.ts';
import { asciiBytes, encodeVpd89, hexBytes } from '../harness/encode-vpd.ts';
import { bytesOf, imageOf, joined, noise } from '../harness/rom-bytes.ts';
import { capturedText, smartctlText } from '../harness/traced-bench.ts';
import { agree, agreeFromCache, agreeInData, demand, isSentence } from './agree.ts';
import type { Target } from './target.ts';

const values = { serial: 'WRN0A4F2K', model: 'WREN TERN 2', firmware: 'T2.07', lbaCount: 1000 };
const identify = encodeIdentify(values);

function decodeSeeds(): readonly Uint8Array[] {
  return [
    ...[identify, encodeVpd89(identify), captureFixture('captures/smart-data.bin')],
    ...vpdFixtures().map(({ hex }) => hexBytes(hex.replace(/\s/g, ''))),
    ...identifyFixtures().map(({ words }) => asciiBytes(words)),
    asciiBytes(smartctlText(values)),
    asciiBytes('{"blockdevices":[{"name":"sda","size":512000,"log-sec":512,"wwn":"0x500005e000530001","rota":false}]}'),
    asciiBytes('{"ata_smart_attributes":{"table":[{"id":5,"raw":{"value":8}}]},"smartctl":{"exit_status":0}}'),
  ];
}

function runDecode(bytes: Uint8Array): void {
  const decoded = decode(bytes);
  agree('decoded again', decode(Uint8Array.from(bytes)), decoded);
  agreeFromCache('decoded, from a cache', decoded);
  if (decoded.format === undefined) demand(decoded.problems.length === 1, 'what is not known is said once', decoded);
  for (const [key, value] of Object.entries(decoded.values)) {
    const isFit =
      typeof value === 'string' ? value !== '' && value === value.trim() : Number.isSafeInteger(value) && value >= 0;
    demand(isFit, `\`${key}\` is usable`, value);
  }
  for (const { message } of decoded.problems) demand(isSentence(message), 'a problem is a sentence', message);
  const { serial } = decoded.values;
  const masked = maskSerials(decoded, 'masked');
  agree('masked twice', maskSerials(masked, 'masked'), masked);
  if (serial !== undefined && /^[A-Z0-9]{8,}$/.test(serial)) {
    demand(!JSON.stringify(masked).includes(serial), 'a serial number does not survive masking', { serial, masked });
  }
}

function runCapture(bytes: Uint8Array): void {
  const facts = readCapture(bytes);
  agree('facts of a capture again', readCapture(Uint8Array.from(bytes)), facts);
  agreeFromCache('facts of a capture from a cache', facts);
  const decoded = decodeText(bytes);
  if (!('text' in decoded) || facts.serials.length === 0 || facts.faults.length > 0) return;
  const planned = planEdits({ tape: readText(decoded.text).tape, contentId: '' }, maskingIntents(facts.serials));
  if (isRefusal(planned)) return;
  const masked = readCapture(new TextEncoder().encode(replaceIn(decoded.text, planned.edits)));
  agree('serial numbers left after masking', masked.serials, []);
  const { maskedSha256: _, ...said } = afterMasking(facts);
  const { maskedSha256: __, ...is } = masked;
  agreeInData('what is said of a masked capture', said, is);
}

const wwn = '500005e000530001';
const withIdentity = joined(noise(600, 3), bytesOf('WRN0A4F2K'), hexBytes(wwn), noise(200, 4), bytesOf('SFDP'));

/** The first byte says where the input is cut into two reads and what the donor's board holds. */
function runImages(bytes: Uint8Array): void {
  const [first = 0] = bytes;
  const body = bytes.subarray(1);
  const cut = first & 1 ? body.length >> 1 : body.length;
  const [one, two] = [body.subarray(0, cut), body.subarray(cut)];
  const input = {
    read1: imageOf('a.bin', one),
    read2: first & 2 ? undefined : imageOf('b.bin', first & 1 ? two : body),
    donorNow: first & 4 ? imageOf('c.bin', two) : undefined,
    recorded: [{ drive: 'd-0117', sha256: '0'.repeat(64) }],
  };
  const compared = compareImages(input);
  agree('images compared again', compareImages(input), compared);
  for (const { message } of compared.remarks) demand(isSentence(message), 'a remark is a sentence', message);
  const images = Object.values(compared.images);
  for (const { bytes: size, blocks } of images) demand(size === 0 || blocks.length > 0, 'blocks cover an image', size);
  if (compared.reads?.isEqual) agree('equal reads', Buffer.compare(input.read1.bytes, input.read2?.bytes ?? one), 0);
}

/** What reads answers of drives and images of chips. */
export const captureTargets: readonly Target[] = [
  {
    ...{ kind: 'bytes', name: 'decode', mostBytes: 1_500, runsInSuite: 1_500, runs: 60_000, limitMs: 500 },
    feeds: 'IDENTIFY DEVICE data, VPD pages, SMART data, JSON of smartctl and lsblk',
    holds: 'every value is usable, what is not known is said, nothing of a masked serial number is left',
    seeds: decodeSeeds,
    run: runDecode,
  },
  {
    ...{ kind: 'bytes', name: 'capture', mostBytes: 1_500, runsInSuite: 250, runs: 6_000, limitMs: 1_000 },
    feeds: 'capture files',
    holds: 'facts are the same again and from a cache, masking leaves nothing to mask and what was said of it',
    seeds: () => [asciiBytes(capturedText(values)), asciiBytes(capturedText(values, '2026-03-14', 'full'))],
    run: runCapture,
  },
  {
    ...{ kind: 'bytes', name: 'rom', mostBytes: 2_500, runsInSuite: 400, runs: 40_000, limitMs: 1_000 },
    feeds: 'two reads of a chip and what is on the donor’s board, cut from the same bytes',
    holds: 'the comparison is the same again, reads said to be equal are',
    seeds: () => [
      joined(Uint8Array.of(0), withIdentity),
      joined(Uint8Array.of(1), withIdentity, withIdentity),
      joined(Uint8Array.of(5), new Uint8Array(512).fill(0xff)),
    ],
    run: runImages,
  },
];
