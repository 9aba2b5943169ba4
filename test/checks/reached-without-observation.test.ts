import { describe, expect, it } from 'vitest';
import { reachedWithoutObservation } from '../../server/src/core/checks/reached-without-observation.ts';
import { stages } from '../../server/src/core/terms/stages.ts';
import { lintFiles } from '../harness/lint-files.ts';
import { messagesOf, type SwapBase, swapBase } from '../harness/swap-base.ts';

const verified = 'verify: [{method: hash_compare, bytes: 1000000000000, errors: 0}]';
const terabyte = { patient: 'capacity_gb: 1000' };

function seen(parts: SwapBase): Promise<string[]> {
  return messagesOf(reachedWithoutObservation, parts);
}

describe('observations', () => {
  it.each([
    ['spins: false', 'spins'],
    ['stops_again: true', 'ready'],
    ['sound: clicking', 'ready'],
    ['detected: false', 'detected'],
    ['identity_right: false', 'detected'],
    ['capacity_right: false', 'detected'],
    ['reads: false', 'reads'],
    ['reads: partly', 'reads'],
    ['locked: true', 'reads'],
    ['content: noise', 'reads'],
  ])('%s contradicts every stage from %s on and none below', async (observed, from) => {
    const names = stages.map((stage) => stage.name);
    const firing: string[] = [];
    for (const reached of names) {
      const found = await seen({ reached, outcome: `observed: {${observed}}\n${verified}` });
      if (found.length > 0) firing.push(reached);
      for (const message of found)
        expect(message).toContain(`\`${observed}\` allows \`${names[names.indexOf(from as never) - 1]}\``);
    }
    expect(firing).toEqual(names.slice(names.indexOf(from as never)));
  });

  it.each(['sound: grinding', 'sound: beeping', 'host_state: error', 'spins: true', 'reads: true'])(
    '%s contradicts nothing',
    async (observed) => {
      expect(await seen({ outcome: `observed: {${observed}}` })).toEqual([]);
    },
  );

  it('are named together in one finding, and the lowest decides', async () => {
    expect(await seen({ outcome: 'observed: {content: noise, stops_again: true, sound: clicking}' })).toEqual([
      'Outcome `one` is said to have reached `reads`, but `stops_again: true`, `sound: clicking` and `content: noise` allow `spins` at most.',
    ]);
  });

  it('count in a retracted outcome too', async () => {
    const outcome = 'observed: {reads: partly}\nretracted: {on: 2026-04-02, because: mixed up}';
    expect(await seen({ outcome })).toHaveLength(1);
  });

  it('that cannot be read contradict nothing', async () => {
    const files = swapBase({ outcome: 'observed: {content: noisy}' });
    expect((await lintFiles(files)).map((finding) => finding.check)).toEqual(['schema']);
  });

  it('stand beside the finding', async () => {
    const files = swapBase({ outcome: 'observed: {reads: partly}' });
    const [finding] = await lintFiles(files, { checks: [reachedWithoutObservation] });
    expect(finding?.help).toBe('Record `detected`, or correct what was observed.');
    expect(finding?.related.map(({ message }) => message)).toEqual(['Recorded here.']);
  });
});

describe('verified', () => {
  const reached = 'verified';

  it.each([
    ['no verify at all', ''],
    ['an empty list', 'verify: []'],
    ['a read pass', 'verify: [{method: read_pass, bytes: 1000000000000, errors: 0}]'],
    ['a mount', 'verify: [{method: mount_only}]'],
  ])('needs a comparing row: %s', async (_, outcome) => {
    expect(await seen({ ...terabyte, reached, outcome })).toEqual([
      'Outcome `one` is said to have reached `verified`, but the absence of a comparing row under `verify` allows `reads` at most.',
    ]);
  });

  it('is undone by one error in a comparing row, not by one in a read pass', async () => {
    const row = '{method: checksum_scrub, bytes: 900000000000, errors: 1}';
    const good = '{method: hash_compare, bytes: 900000000000, errors: 0}';
    const pass = '{method: read_pass, errors: 4}';
    expect(await seen({ ...terabyte, reached, outcome: `verify: [${good}, ${row}]` })).toEqual([
      'Outcome `one` is said to have reached `verified`, but `checksum_scrub` with 1 error allows `reads` at most.',
    ]);
    expect(await seen({ ...terabyte, reached, outcome: `verify: [${good}, ${pass}]` })).toEqual([]);
  });

  it.each([
    [20_000_000_000, 1, true],
    [19_999_999_999, 1, false],
    [40_000_000_000, 2, true],
    [39_999_999_999, 2, false],
  ])('%i bytes in %i passes over 1000 GB', async (bytes, passes, isEnough) => {
    const outcome = `verify: [{method: hash_compare, bytes: ${bytes}, passes: ${passes}, errors: 0}]`;
    expect(await seen({ ...terabyte, reached, outcome })).toHaveLength(isEnough ? 0 : 1);
  });

  it('adds up comparing rows, and says what is missing', async () => {
    const rows = (bytes: number): string =>
      `verify: [{method: hash_compare, bytes: ${bytes}}, {method: write_pass, bytes: 10000000000}, {method: read_pass, bytes: 900000000000}]`;
    expect(await seen({ ...terabyte, reached, outcome: rows(10_000_000_000) })).toEqual([]);
    expect(await seen({ ...terabyte, reached, outcome: rows(2_000_000_000) })).toEqual([
      'Outcome `one` is said to have reached `verified`, but content compared over 1.2 % of the capacity, less than the 2 % asked for by `verified_share`, allows `reads` at most.',
    ]);
  });

  it('helps with how many bytes are missing, where nothing else is', async () => {
    const helpOf = async (outcome: string): Promise<(string | undefined)[]> => {
      const files = swapBase({ ...terabyte, reached, outcome });
      return (await lintFiles(files, { checks: [reachedWithoutObservation] })).map(({ help }) => help);
    };
    const rows = 'verify: [{method: hash_compare, bytes: 12000000000}]';
    expect(await helpOf(rows)).toEqual([
      'Record `reads`, compare 8,000,000,000 bytes more without error, or correct what was observed.',
    ]);
    expect(await helpOf(`observed: {content: noise}\n${rows}`)).toEqual([
      'Record `detected`, or correct what was observed.',
    ]);
  });

  it('asks for the share of the base', async () => {
    const outcome = 'verify: [{method: hash_compare, bytes: 300000000000}]';
    expect(await seen({ ...terabyte, reached, outcome, config: 'verified_share: 0.3' })).toEqual([]);
    expect(await seen({ ...terabyte, reached, outcome, config: 'verified_share: 0.31' })).toHaveLength(1);
  });

  it('takes the exact size where sectors and their size are known', async () => {
    const outcome = 'verify: [{method: hash_compare, bytes: 20000000000}]';
    const exact = { family: 'sector_bytes: {logical: 512}', patient: 'capacity_gb: 1000\nlba_count: 1953525168' };
    expect(await seen({ reached, outcome, ...exact })).toHaveLength(1);
    expect(await seen({ reached, outcome, ...exact, family: 'rpm: 7200' })).toEqual([]);
  });

  it.each([
    ['the size', {}, 'verify: [{method: hash_compare, bytes: 1000}]'],
    ['the bytes', terabyte, 'verify: [{method: hash_compare}]'],
    ['the bytes of one row', terabyte, 'verify: [{method: hash_compare, bytes: 1000}, {method: hash_compare}]'],
    ['readable bytes', terabyte, 'verify: [{method: hash_compare, bytes: 64 GiB}]'],
    ['readable passes', terabyte, 'verify: [{method: hash_compare, bytes: 1000, passes: 0}]'],
    ['a readable method', terabyte, 'verify: [{method: hash, bytes: 1000}]'],
  ])('is not judged without %s', async (_, parts, outcome) => {
    expect(await seen({ ...parts, reached, outcome })).toEqual([]);
  });

  it('lets the smaller of two contradicting sizes count, since the size is at fault', async () => {
    const outcome = 'verify: [{method: hash_compare, bytes: 20000000000}]';
    const patient = 'capacity_gb: 1000\nlba_count: 15628201344';
    expect(await seen({ reached, outcome, patient, family: 'sector_bytes: {logical: 512}' })).toEqual([]);
  });
});
