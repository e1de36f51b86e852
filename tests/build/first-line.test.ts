// The line that comes with the page is the one the page would work out, and the picture is a picture of it.
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import list from '../../shared/charts/charts.json' with { type: 'json' };
import { firstStudy, pageWith, type FirstStudy } from '../../src/build/first-line';
import type { WalkResult } from '../../src/pipeline';
import { requestOf, studyOf, unpack } from '../../src/state';
import { sheetWidths } from '../../src/ui/first/sheets';
import { makeDoers } from '../../src/worker/doers';
import { reply } from '../../src/worker/protocol';

const path = (relative: string): string => fileURLToPath(new URL(`../../${relative}`, import.meta.url));

describe('the study of a first visit', () => {
  let study: FirstStudy;
  let answer: WalkResult;
  beforeAll(async () => {
    study = await firstStudy({
      source: path('src'),
      svelteConfig: path('svelte.config.js'),
      charts: path('shared/charts'),
    });
    answer = unpack(study.answer) as WalkResult;
  }, 60_000);

  it('has the line that the worker answers, to the last field', () => {
    const ask = requestOf(studyOf({ text: study.chartText, seed: list.charts[0]!.take }));
    const told = structuredClone(reply({ task: 'walk', id: 1, ask }, makeDoers()));
    expect(told).toStrictEqual({ kind: 'done', id: 1, answer });
  });

  it('is small enough to come with the page', () => {
    expect(study.answer.length).toBeLessThan(120_000);
    expect(study.picture.length).toBeLessThan(160_000);
  });

  it('shows the fingers of the line on every kind of screen', () => {
    const sheets = study.picture.split('class="first-sheet ').slice(1);
    expect(sheets.map((sheet) => sheet.slice(0, sheet.indexOf('"')))).toEqual(Object.keys(sheetWidths));
    const fingers = (answer.line?.notes ?? []).slice(0, 4).map(({ placement }) => placement.finger);
    for (const sheet of sheets) {
      // Stopped and open notes are drawn apart.
      const [stopped = '', open = ''] = [...sheet.matchAll(/class="fingers[^>]*>([^<]*)</g)].map(
        (match) => match[1]!,
      );
      expect(fingers.filter((finger) => finger !== '0').every((finger) => stopped.includes(finger))).toBe(
        true,
      );
      // Only the first notes are looked for: an open one among them is drawn among the open ones.
      if (fingers.includes('0')) expect(open.startsWith('0')).toBe(true);
    }
  });

  it('holds nothing that the security policy of the page forbids', () => {
    expect(study.picture).not.toMatch(/\sstyle=|\son\w+=|<script|<style/);
  });

  it('has a rule of the style sheet for every sheet', () => {
    const css = readFileSync(path('src/ui/first/first.css'), 'utf8');
    for (const screen of Object.keys(sheetWidths)) expect(css).toContain(`.first-sheet.${screen} {`);
  });

  it('stands in the built page, whose program is fetched at once and started after it', () => {
    const html =
      '<head><script type="module" crossorigin src="./assets/a.js"></script></head><body><div id="app"></div></body>';
    const page = pageWith('<p>$& $1</p>', html);
    expect(page).toContain('<div id="app"><p>$& $1</p></div>');
    expect(page).toContain('<link rel="modulepreload" crossorigin href="./assets/a.js" data-program />');
    expect(page).toMatch(/<script type="module" src="\.\/start\.js"><\/script>\s*<\/body>/);
    expect(() => pageWith('', '<body></body>')).toThrow();
  });
});
