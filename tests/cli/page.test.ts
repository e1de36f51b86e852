// Pages from a terminal: pictures without any browser, PDF by an installed one, and a sentence where there is none.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { findChromium } from '../../src/cli/find-chromium.mjs';

const root = fileURLToPath(new URL('../..', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'ramble-pages-'));
afterAll(() => {
  rmSync(folder, { recursive: true });
});

function ramble(args: readonly string[], env: Readonly<Record<string, string>> = {}) {
  const run = spawnSync(process.execPath, ['src/build/ramble.mjs', ...args], {
    cwd: root,
    env: { ...process.env, INIT_CWD: root, ...env },
  });
  return { status: run.status, out: run.stdout, error: run.stderr.toString('utf8') };
}
const blues = 'shared/charts/back-stairs-blues.txt';
const chromium = findChromium();

describe('a page from the command line', { timeout: 240_000 }, () => {
  it('as SVG, from a chart, a line and a scale, with no browser at all', () => {
    const calls = [
      ['walk', blues],
      ['finger', 'Bb1 C2 D2 Eb2'],
      ['scale', 'Bb major'],
    ];
    for (const call of calls) {
      const { status, out, error } = ramble([...call, '--format', 'svg'], { CHROMIUM: '', PATH: '/nowhere' });
      expect({ status, error }).toEqual({ status: 0, error: '' });
      expect(out.toString('utf8')).toMatch(/^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg" width="210mm"/);
    }
  });

  it('says what a PDF needs where there is no browser, or not the one that was named', () => {
    const without = ramble(['walk', blues, '--format', 'pdf'], { CHROMIUM: '', PATH: '/nowhere' });
    expect(without.status).toBe(1);
    expect(without.out).toHaveLength(0);
    expect(without.error).toBe(
      'ramble: a PDF is printed by Chromium or Chrome, and none was found: install one, name it in CHROMIUM, or take --format svg\n',
    );
    const named = ramble(['walk', blues, '--format', 'pdf'], { CHROMIUM: '/no/browser' });
    expect([named.status, named.error]).toEqual([
      1,
      'ramble: CHROMIUM names /no/browser, which cannot be run\n',
    ]);
  });

  it('says so where the browser prints nothing, and leaves nothing behind', () => {
    const before = readdirSync(tmpdir()).filter((name) => name.startsWith('ramble-page-')).length;
    const { status, error } = ramble(['walk', blues, '--format', 'pdf'], { CHROMIUM: process.execPath });
    expect(status).toBe(1);
    expect(error).toMatch(/^ramble: the browser printed no page \(.*\)\n$/);
    expect(readdirSync(tmpdir()).filter((name) => name.startsWith('ramble-page-'))).toHaveLength(before);
  });

  it('takes A4 and Letter only', () => {
    const { status, error } = ramble(['walk', blues, '--format', 'svg', '--paper', 'A5']);
    expect([status, error]).toEqual([
      2,
      'ramble: --paper takes A4, Letter, not "A5"\nTry: ramble walk --help\n',
    ]);
  });

  it.skipIf(chromium === undefined)(
    'as PDF, on as many pages as it takes',
    () => {
      for (const [choruses, paper, box] of [
        [1, 'A4', /\/MediaBox \[0 0 59[45](\.\d+)? 84[12](\.\d+)?\]/],
        [6, 'Letter', /\/MediaBox \[0 0 612 792\]/],
      ] as const) {
        const file = join(folder, `${paper}.pdf`);
        const args = ['walk', blues, '--format', 'pdf', '--choruses', String(choruses), '--paper', paper];
        expect(ramble([...args, '--out', file])).toMatchObject({ status: 0, error: '' });
        const pdf = readFileSync(file, 'latin1');
        expect(pdf.startsWith('%PDF-')).toBe(true);
        expect(pdf).toMatch(box);
        const pages = pdf.match(/\/Type \/Page\b/g)!.length;
        if (choruses === 1) expect(pages).toBe(1);
        else expect(pages).toBeGreaterThan(1);
      }
    },
    240_000,
  );
});
