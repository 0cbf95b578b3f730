// The report of the demo case on a screen: drawn, readable, usable without a mouse, offline.
import assert from 'node:assert/strict';
import {readFileSync} from 'node:fs';
import {createRequire} from 'node:module';
import path from 'node:path';
import test from 'node:test';

import {misplaced} from './layout.mjs';
import {browser, cases, folder, open, report} from './open.mjs';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const screens = [
  {name: 'desktop, light', viewport: {width: 1280, height: 900}, colorScheme: 'light'},
  {name: 'desktop, dark', viewport: {width: 1280, height: 900}, colorScheme: 'dark'},
  {name: 'phone, light', viewport: {width: 390, height: 844}, colorScheme: 'light'},
  {name: 'phone, dark', viewport: {width: 390, height: 844}, colorScheme: 'dark'},
];

test('the report of the parcel van', async (t) => {
  const out = report(path.join(cases, 'parcel-van', 'case.toml'), folder(t), '--html', '--with-window');
  const file = path.join(out, 'report.html');
  const made = await browser(t);

  for (const screen of screens)
    await t.test(`on ${screen.name}`, async () => {
      const {page, complaints, context} = await open(made, file, screen);
      const drawn = await page.evaluate(() => [...document.querySelectorAll('figure.chart')].map(
        (figure) => ({id: figure.id, marks: figure.querySelectorAll('svg .mark-symbol path, svg .mark-line path, svg .mark-rect path, svg .mark-rule line').length})));
      assert.ok(drawn.length >= 16, `${drawn.length} charts`);
      for (const {id, marks} of drawn) assert.ok(marks > 0, `nothing is drawn in ${id}`);
      assert.deepEqual(await page.evaluate(misplaced), []);
      await page.evaluate(axe);
      const result = await page.evaluate(() => globalThis.axe.run(document, {resultTypes: ['violations']}));
      const serious = result.violations.filter(({impact}) => ['serious', 'critical'].includes(impact))
        .map(({id, nodes}) => `${id}: ${nodes.slice(0, 3).map((node) => node.html.slice(0, 120)).join(' | ')}`);
      assert.deepEqual(serious, []);
      assert.deepEqual(complaints, []);
      await context.close();
    });

  await t.test('text that lies on text or is cut off would be found', async () => {
    const {page, context} = await open(made, file, screens[0]);
    const spoiled = await page.evaluate(() => {
      const [one, other] = document.querySelectorAll('#chart-energy svg .role-axis-label text');
      one.setAttribute('transform', other.getAttribute('transform'));
      document.querySelector('[id^=chart-moves] svg .role-axis-label text').setAttribute('transform', 'translate(-300,0)');
      document.querySelector('.answer').nextElementSibling.style.marginTop = '-40px';
      document.querySelector('h1').style.cssText = 'white-space: nowrap; width: 50px; overflow: hidden';
    }).then(() => page.evaluate(misplaced));
    for (const part of ['chart-energy: ', 'chart-moves', 'cut off: H1', 'lies on P'])
      assert.ok(spoiled.some((one) => one.includes(part)), `${part} in ${spoiled.join('\n')}`);
    await context.close();
  });

  await t.test('by keyboard', async () => {
    const {page, context} = await open(made, file, screens[0]);
    const expected = await page.evaluate(() => {
      const all = [...document.querySelectorAll('a[href], button, summary, [tabindex="0"]')]
        .filter((node) => node.checkVisibility());
      all.forEach((node, i) => { node.dataset.order = String(i); });
      return all.length;
    });
    const looked_at = Math.min(expected, 60);
    for (let i = 0; i < looked_at; ++i) {
      await page.keyboard.press('Tab');
      const now = await page.evaluate(() => {
        const node = document.activeElement;
        const style = getComputedStyle(node);
        return {order: node.dataset.order, name: node.textContent.trim() || node.getAttribute('aria-label'),
          outline: style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2};
      });
      assert.equal(now.order, String(i), `stop ${i} is ${now.name}`);
      assert.ok(now.outline, `no focus to be seen on ${now.name}`);
    }
    assert.equal(await page.evaluate(() => document.querySelector('[data-order="0"]').className), 'skip');
    // A folded table opens by the keyboard.
    const figures = page.locator('details.figures').first();
    await figures.locator('summary').focus();
    await page.keyboard.press('Enter');
    assert.ok(await figures.locator('table').isVisible());
    await context.close();
  });

  await t.test('the working of a figure folds out, also for a link to it', async () => {
    const {page, complaints, context} = await open(made, file, screens[2]);
    await page.locator('#answer details.workings > summary').click();
    await page.locator('#answer details.workings details > summary').first().click();
    const chain = page.locator('#answer pre.chain').first();
    assert.ok(await chain.isVisible());
    assert.match(await chain.textContent(), /net_W = .* W/);
    const link = page.locator('#requirements a[href^="#working-"]').first();
    const target = page.locator(await link.getAttribute('href'));
    await link.click();
    await target.waitFor({state: 'visible'});
    await page.evaluate(() => document.querySelectorAll('details').forEach((fold) => { fold.open = true; }));
    assert.deepEqual(await page.evaluate(misplaced), []);
    assert.deepEqual(complaints, []);
    await context.close();
  });

  await t.test('without scripting every chart is a table', async () => {
    const {page, complaints, context} = await open(made, file, {...screens[2], javaScriptEnabled: false});
    const figures = page.locator('figure.chart');
    const count = await figures.count();
    assert.ok(count >= 16);
    for (let i = 0; i < count; ++i)
      assert.ok(await figures.nth(i).locator('table').isVisible(), `no table in chart ${i}`);
    assert.equal(await page.locator('.save:visible').count(), 0);
    assert.deepEqual(complaints, []);
    await context.close();
  });

  await t.test('a chart is saved as picture and as data', async () => {
    const {page, complaints, context} = await open(made, file, screens[1]);
    const saved = async (text) => {
      const wait = page.waitForEvent('download');
      await page.locator('#chart-exchange-strikes button', {hasText: text}).click();
      return readFileSync(await (await wait).path());
    };
    const png = await saved('PNG');
    assert.equal(png.subarray(1, 4).toString(), 'PNG');
    assert.deepEqual([png.readUInt32BE(16), png.readUInt32BE(20)], [1920, 1080]);
    const svg = (await saved('SVG')).toString();
    assert.match(svg, /^<svg[^>]* width="1920" height="1080"/);
    assert.match(svg, /dense-ring/);
    const rows = (await saved('CSV')).toString().trim().split('\r\n').map((line) => line.split(','));
    const result = JSON.parse(readFileSync(path.join(out, 'result.json')));
    assert.equal(rows.length, 1 + result.trade.exchange.length);
    result.trade.exchange.forEach((row, i) => {
      assert.equal(rows[1 + i][0], row.variant);
      const {mid, low, high} = row.battery_Wh_per_km;
      assert.deepEqual(rows[1 + i].slice(1, 4).map(Number), [mid, low, high]);
    });
    assert.deepEqual(complaints, []);
    await context.close();
  });

  await t.test('hovering shows the values', async () => {
    const {page, context} = await open(made, file, screens[0]);
    await page.locator('#chart-exchange-strikes .mark-symbol.role-mark path').first().hover();
    assert.match(await page.locator('.tip').textContent(), /variant: plain/);
    await context.close();
  });
});
