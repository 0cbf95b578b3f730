// The printed report: no blank page, nothing cut off at the edge of the sheet.
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import {readdirSync, readFileSync} from 'node:fs';
import path from 'node:path';
import test from 'node:test';

import {cases, folder, report} from './open.mjs';

const per_inch = 50;
const margin_mm = 10;  // the page's style leaves 15 and more

/** Grey values of a page: a portable grey map as poppler writes it. */
function grey(file) {
  const bytes = readFileSync(file);
  const [, width, height] = bytes.subarray(0, 40).toString('latin1').match(/^P5\s+(\d+)\s+(\d+)\s+255\s/);
  const size = Number(width) * Number(height);
  return {width: Number(width), height: Number(height), values: bytes.subarray(bytes.length - size)};
}

test('the PDF of the parcel van', (t) => {
  const out = report(path.join(cases, 'parcel-van', 'case.toml'), folder(t), '--pdf');
  const pdf = path.join(out, 'report.pdf');
  execFileSync('pdftoppm', ['-gray', '-r', String(per_inch), pdf, path.join(out, 'sheet')]);
  const sheets = readdirSync(out).filter((name) => name.endsWith('.pgm')).sort();
  assert.ok(sheets.length >= 8 && sheets.length <= 40, `${sheets.length} sheets`);
  const margin = Math.floor((margin_mm / 25.4) * per_inch);
  for (const sheet of sheets) {
    const {width, height, values} = grey(path.join(out, sheet));
    assert.ok(Math.abs(height / width - Math.SQRT2) < 0.01, 'A4');
    let inked = 0;
    let in_margin = 0;
    for (let y = 0; y < height; ++y)
      for (let x = 0; x < width; ++x) {
        if (values[y * width + x] > 200) continue;
        ++inked;
        if (x < margin || x >= width - margin || y < margin || y >= height - margin) ++in_margin;
      }
    assert.ok(inked > 200, `${sheet} is blank`);
    assert.equal(in_margin, 0, `${sheet} reaches into the margin`);
  }
  const text = execFileSync('pdftotext', ['-layout', pdf, '-'], {encoding: 'utf8'});
  const pages = text.split('\f');
  assert.match(pages[0], /Three numbers/);
  assert.match(pages[0], /How much rests on assumed inputs/);
  assert.match(pages[1], /Appendices/);
  assert.match(text, /How to get the same figures/);
  // The charts are drawn in the PDF, not left out: their axis titles are text in it.
  for (const title of ['share of driving time that strikes [%]', 'frequency [Hz]', 'running time [h]'])
    assert.ok(text.includes(title), title);
});
