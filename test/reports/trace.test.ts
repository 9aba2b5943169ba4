import { expect, it } from 'vitest';
import { traceOf } from '../../server/src/core/captures/trace.ts';
import { panelPage } from '../../server/src/core/reports/panel-page.ts';
import { PlaceBook } from '../../server/src/core/reports/place-book.ts';
import { renderText } from '../../server/src/core/reports/render-text.ts';
import { traceDocument } from '../../server/src/core/reports/trace.ts';
import { panelNonce } from '../harness/report-pages.ts';
import { fullSerials, tracedDrives } from '../harness/traced-bench.ts';

const { patient, donor, after } = tracedDrives;
const hostile = `<b>${fullSerials.patient}</b>`;

/** Four captures whose assemblies do not agree, one of them with a name that is mark-up and holds a serial number. */
const result = traceOf(
  {
    patientBefore: { values: { ...patient, model: hostile } },
    donorBefore: { values: donor },
    after: { values: after },
    otherAfter: {
      values: { ...donor, serial: patient.serial },
      problems: [{ severity: 'warning', message: `Of ${patient.serial}.` }],
    },
  },
  { serials: 'masked' },
);
const blocks = traceDocument(result, { didRomStay: false, identity: { serial: 'platters' } });

it('tells in lines of 80 columns what the assemblies do not agree about', () => {
  const shown = renderText(blocks, { width: 80, strong: (text) => text });
  expect(shown).toContain('Warning: `other_after`: Of ****4F2K.');
  expect(shown.replace(/\s+/g, ' ')).toContain(
    'The two assemblies do not agree: `serial` follows the platters in `after` and the board in `other_after`',
  );
  expect(shown).toContain('The ROM went along, so what followed the platters may have come in it.');
  expect(Math.max(...shown.split('\n').map((line) => line.length))).toBeLessThanOrEqual(80);
});

it('is a page in which nothing reported becomes mark-up or shows a whole serial number', () => {
  const html = panelPage({
    report: 'findings',
    blocks,
    today: 20_000,
    book: new PlaceBook(new Map()),
    numbers: new Map(),
    nonce: panelNonce,
  });
  expect(html).toContain('&#60;b&#62;****4F2K&#60;/b&#62;');
  for (const serial of Object.values(fullSerials)) expect(html).not.toContain(serial);
});

it('says where nothing was reported', () => {
  expect(
    renderText(traceDocument(traceOf({}, { serials: 'masked' })), { width: 80, strong: (text) => text }),
  ).toContain('No capture reports any of the values that are traced.');
});
