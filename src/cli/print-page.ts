// HTML to PDF by an installed browser, which runs apart from anybody's own: a profile of its own, gone afterwards.
import { spawn } from 'node:child_process';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import words from '../../shared/words/page.json' with { type: 'json' };
import { FileError } from './files';
import { findChromium } from './find-chromium.mjs';

/** Patience with a machine that is busy, in milliseconds. */
const patience = 120_000;

/** Resolves with what the browser said, and whether it ended well. */
function runBrowser(program: string, args: readonly string[]): Promise<{ isDone: boolean; said: string }> {
  return new Promise((resolve) => {
    const child = spawn(program, args, { stdio: ['ignore', 'ignore', 'pipe'], timeout: patience });
    let said = '';
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      said = (said + text).slice(-4_000);
    });
    child.once('error', (error) => {
      resolve({ isDone: false, said: error.message });
    });
    child.once('close', (code) => {
      resolve({ isDone: code === 0, said });
    });
  });
}

/** @throws FileError where there is no browser, or where it prints nothing */
export async function printPage(html: string): Promise<Uint8Array> {
  const program = findChromium();
  if (program === undefined) {
    const named = process.env.CHROMIUM;
    throw new FileError(named ? `CHROMIUM names ${named}, which cannot be run` : words.noBrowser);
  }
  const folder = await mkdtemp(join(tmpdir(), 'ramble-page-'));
  try {
    const page = join(folder, 'page.html');
    const made = join(folder, 'page.pdf');
    await writeFile(page, html);
    const { isDone, said } = await runBrowser(program, [
      '--headless=new',
      '--disable-gpu',
      '--disable-extensions',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      '--no-first-run',
      '--no-pdf-header-footer',
      // Root has no sandbox to give; the page is ours and runs no scripts.
      ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
      `--user-data-dir=${join(folder, 'profile')}`,
      `--print-to-pdf=${made}`,
      pathToFileURL(page).href,
    ]);
    const pdf = await readFile(made).catch(() => null);
    if (isDone && pdf !== null) return pdf;
    const reason = said.trim().split('\n').at(-1);
    throw new FileError(`${words.browserFailed} (${program}${reason ? `: ${reason}` : ''})`);
  } finally {
    // The browser's last processes may still be writing.
    await rm(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
  }
}
