// Whatever a case says is text on the page: markup, scripts, quotes, marks of direction, very long
// words. And what the first screen says of the honest cases.
import assert from 'node:assert/strict';
import {readFileSync, writeFileSync} from 'node:fs';
import path from 'node:path';
import test from 'node:test';

import {misplaced} from './layout.mjs';
import {browser, cases, folder, open, report} from './open.mjs';

const hostile = '</title></script><script>alert(1)</script><img src=x onerror=alert(2)> '
  + '"quoted" \'single\' & &lt; {{x}} <!-- \u202eesrever\u202c \u{1F525} =1+1 ]]>';

test('hostile text in a case', async (t) => {
  const place = folder(t);
  const long = 'W'.repeat(10000);
  const toml = (text) => JSON.stringify(text).replace(/[\u007f-\uffff]/g, (c) => c);
  const text = readFileSync(path.join(cases, 'buys-nothing', 'case.toml'), 'utf8')
    .replace(/^title = "48 V.*$/m, `title = ${toml(hostile)}`)
    .replace(/^question = .*$/m, `question = ${toml(hostile + long)}`)
    .replace(/^title = "Light lip.*$/m, `title = ${toml(hostile)}`)
    .replace(/^title = "Same lip.*$/m, `title = ${toml(long)}`)
    .replace('source = "invented shaft drawing"', `source = ${toml(hostile)}`);
  writeFileSync(path.join(place, 'case.toml'), text);
  report(path.join(place, 'case.toml'), place, '--html');
  const {page, complaints} = await open(await browser(t), path.join(place, 'report.html'),
    {viewport: {width: 390, height: 844}});
  assert.deepEqual(complaints, []);
  const shown = hostile.replaceAll(/[\u202e\u202c]/g, '\ufffd');
  assert.equal(await page.locator('h1').textContent(), shown);
  assert.equal(await page.title(), shown);
  assert.ok((await page.locator('.question').textContent()).startsWith(shown));
  assert.equal(await page.locator('img, iframe, object, embed, link, base').count(), 0);
  assert.equal(await page.locator('script:not([type])').count(), 1);
  assert.deepEqual(await page.evaluate(misplaced), []);
  const carried = await page.locator('code[data-file]').first();
  const bytes = await carried.evaluate((node) =>
    node.dataset.encoding === 'base64' ? atob(node.textContent) : unescape(encodeURIComponent(node.textContent)));
  assert.equal(Buffer.from(bytes, 'latin1').toString(), text);
});

// What the reader of the first screen must not miss. The words are those of the study; that they
// are on the first screen is what is tested here.
const first_screens = {
  'buys-nothing': [/^plain/, /Do not ground here/, /none in the baseline either/],
  'grounding-harms': [/^plain/, /Do not ground here/, /debris/],
  'rival-wins': [/^shielded/, /ring takes no more discharge dose away and costs no less/],
};

test('the first screen of the honest cases', async (t) => {
  const made = await browser(t);
  for (const [name, [chosen, ...words]] of Object.entries(first_screens))
    await t.test(name, async (one) => {
      const out = report(path.join(cases, name, 'case.toml'), folder(one), '--html');
      const {page, complaints, context} = await open(made, path.join(out, 'report.html'),
        {viewport: {width: 1280, height: 900}});
      const visible = await page.evaluate(() => [...document.querySelectorAll('header *, #answer *')]
        .filter((node) => node.children.length === 0 || node.matches('p'))
        .filter((node) => node.getBoundingClientRect().bottom <= innerHeight)
        .map((node) => node.textContent).join('\n'));
      assert.match(await page.locator('.answer').textContent(), chosen);
      for (const word of words) assert.match(visible, word);
      assert.match(visible, /Claim, rung \d of 7/);
      assert.deepEqual(await page.evaluate(misplaced), []);
      assert.deepEqual(complaints, []);
      await context.close();
    });
});
