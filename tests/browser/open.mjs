// What all browser tests share: the program, the browser, a page that has no network.
import {execFileSync} from 'node:child_process';
import {mkdtempSync, rmSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {chromium} from 'playwright-core';

const program = process.env.OHMDRAG_PROGRAM;
export const cases = process.env.OHMDRAG_CASES;

// A busy machine may take long over a page; what hangs is ended by this.
const patience = 120000;

/** A folder of its own that goes when the test does. */
export function folder(test) {
  const made = mkdtempSync(path.join(tmpdir(), 'ohmdrag-browser-'));
  test.after(() => rmSync(made, {recursive: true, force: true}));
  return made;
}

/** Writes the reports of a case that the flags ask for. */
export function report(case_file, into, ...flags) {
  execFileSync(program, ['trade', case_file, '--out', into, '--quiet', ...flags], {stdio: 'pipe'});
  return into;
}

export async function browser(test) {
  const made = await chromium.launch({
    executablePath: process.env.OHMDRAG_CHROMIUM,
    args: process.getuid() === 0 ? ['--no-sandbox'] : [],
  });
  test.after(() => made.close());
  return made;
}

/**
 * A page that may load nothing but the file itself. `complaints` collects errors of the console and
 * of scripts, breaches of the security policy, dialogues, and requests for anything else.
 */
export async function open(made, file, options = {}) {
  const context = await made.newContext({offline: true, acceptDownloads: true, ...options});
  context.setDefaultTimeout(patience);
  const page = await context.newPage();
  const complaints = [];
  const own = `file://${file}`;
  page.on('console', (message) => {
    if (['error', 'warning'].includes(message.type())) complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('dialog', async (dialog) => {
    complaints.push(`dialogue: ${dialog.message()}`);
    await dialog.dismiss();
  });
  page.on('request', (request) => {
    const address = request.url();
    if (address !== own && !/^(blob|data):/.test(address)) complaints.push(`request: ${address}`);
  });
  await page.goto(own);
  return {page, complaints, context};
}
