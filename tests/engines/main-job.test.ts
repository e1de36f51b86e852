// The main job in engines other than Chromium, each where it is installed: open, play, edit, pin, limit, save, reload, print,
// and all of it without a connection.
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findFirefox, findWebKit } from '../../src/build/engines.mjs';
import { serve, type Host } from '../browser/host';
import { inkOnPages } from '../browser/pdf';
import { keys, until, wait, type Engine } from './engine';
import { openFirefox } from './firefox';
import { openWebKit } from './webkit';

const firefox = findFirefox();
const webKit = findWebKit();
const engines: readonly { name: string; need: string; open: (() => Promise<Engine>) | null }[] = [
  {
    name: 'Firefox',
    need: 'Debian package firefox-esr',
    open: firefox === undefined ? null : () => openFirefox(firefox),
  },
  {
    name: 'WebKit',
    need: 'Debian packages webkit2gtk-driver and xvfb',
    open: webKit === undefined ? null : () => openWebKit(webKit),
  },
];

/** Each is waited for before the page is left, in milliseconds after the edit. */
const waits = [0, 50, 100, 300, 800, 1500];

const quoted = (text: string): string => JSON.stringify(text);

describe.each(engines)('$name ($need)', ({ open }) => {
  describe.skipIf(open === null)('where it is installed', () => {
    let engine: Engine;
    let host: Host;
    let hasSound = false;
    beforeAll(async () => {
      host = await serve('dist');
      engine = await open!();
    });
    afterAll(async () => {
      await engine?.close();
      await host?.close();
    });

    const textOf = (css: string): Promise<string> =>
      engine.run(`return document.querySelector(${quoted(css)})?.textContent ?? ''`);
    const count = (css: string): Promise<number> =>
      engine.run(`return document.querySelectorAll(${quoted(css)}).length`);
    /** Presses what is seen of the first element that the expression gives. */
    async function press(expression: string): Promise<void> {
      const place = await until(
        expression,
        () =>
          engine.run<{ x: number; y: number } | null>(`
            const element = ${expression};
            element?.scrollIntoView({ block: 'nearest', inline: 'nearest' });
            const box = element?.getBoundingClientRect();
            return box && box.width > 0 ? { x: box.x + box.width / 2, y: box.y + box.height / 2 } : null`),
        (found) => found !== null,
      );
      await engine.pressAt(place!.x, place!.y);
    }
    const pressButton = (name: string): Promise<void> =>
      press(
        `[...document.querySelectorAll('header button')].find((one) => one.textContent.trim() === ${quoted(name)} && one.offsetParent !== null)`,
      );
    /** The program runs and shows a line. */
    const ready = (): Promise<unknown> =>
      until(
        'the first line',
        () =>
          engine.run<string>(
            `return document.querySelector('main .board [role=img]')?.getAttribute('aria-label') ?? ''`,
          ),
        (label) => label.includes('string'),
      );
    const isSaved = (): Promise<unknown> =>
      until(
        'saved',
        () => textOf('header .saving'),
        (text) => text.includes('saved') && !text.includes('not'),
      );
    /** The study on the desk is opened right after the first picture. */
    const isTitled = (title: string): Promise<unknown> =>
      until(
        'the title',
        () => textOf('h1'),
        (found) => found === title,
      );
    async function openChanges(): Promise<void> {
      if ((await count('#drawer-changes textarea')) === 0) await pressButton('Write changes');
      await until(
        'the chart as text',
        () => count('#drawer-changes textarea'),
        (found) => found > 0,
      );
    }
    /** Puts the caret after the title. */
    const toTitleEnd = (): Promise<unknown> =>
      engine.run(`
        const field = document.querySelector('#drawer-changes textarea');
        field.focus();
        const end = /Title:[^\\n]*/.exec(field.value);
        field.setSelectionRange(end.index + end[0].length, end.index + end[0].length);`);

    it('opens and shows a line, its fingering and the board', async () => {
      await engine.open(host.address);
      await ready();
      expect(await textOf('h1')).toBe('Back Stairs Blues');
      expect(await count('main .score [data-note]')).toBe(48);
    });

    it('plays, or says that it waits for the sound device and blames nobody', async () => {
      await press(`document.querySelector('footer .play')`);
      const state = await until(
        'playing',
        () =>
          engine.run<{ label: string; said: string }>(
            `return { label: document.querySelector('footer .play').getAttribute('aria-label'), said: document.querySelector('footer').textContent }`,
          ),
        ({ label, said }) => label === 'Stop' || /begins as soon as it does|no sound/i.test(said),
      );
      // One part of the band is called Click.
      expect(state.said).not.toMatch(/\b(press|tap)\b|blocked/i);
      hasSound = state.label === 'Stop';
      if (!hasSound) return;
      await press(`document.querySelector('footer .play')`);
      await until(
        'stopped',
        () => engine.run<string>(`return document.querySelector('footer .play').getAttribute('aria-label')`),
        (label) => label === 'Play',
      );
    });

    it('begins by itself when the sound device answers late, where there is one', async (test) => {
      await engine.reload();
      await ready();
      const label = (): Promise<string> =>
        engine.run(`return document.querySelector('footer .play').getAttribute('aria-label')`);
      const said = (): Promise<string> => textOf('footer');
      await engine.run(`
        const Real = AudioContext;
        globalThis.AudioContext = class extends Real {
          constructor(options) {
            super(options);
            void this.suspend();
          }
          async resume() {
            await new Promise((resolve) => setTimeout(resolve, 2500));
            await super.resume();
          }
        };`);
      await press(`document.querySelector('footer .play')`);
      await until('the sentence', said, (text) => text.includes('begins as soon as it does'));
      if (!hasSound) return test.skip('no sound device answers this engine here');
      await until('playing', label, (text) => text === 'Stop');
      expect(await said()).not.toContain('begins as soon as it does');
      await press(`document.querySelector('footer .play')`);
    });

    it.each(waits)('keeps a title typed %i ms before a reload', async (milliseconds) => {
      await openChanges();
      await toTitleEnd();
      await engine.type(` ${milliseconds}`);
      await wait(milliseconds);
      await engine.reload();
      await ready();
      await until(
        'the title',
        () => textOf('h1'),
        (title) => title.endsWith(` ${milliseconds}`),
      );
    });

    it('edits the changes, pins a note and sets a limit, and all of it is there after a reload', async () => {
      await openChanges();
      await engine.run(`
        const field = document.querySelector('#drawer-changes textarea');
        field.focus();
        field.select();`);
      await engine.type('Title: Elsewhere');
      await engine.type(`${keys.Enter}Key: F${keys.Enter}${keys.Enter}| F7 | Bb7 | F7 | C7 |`);
      await until(
        'the title',
        () => textOf('h1'),
        (title) => title === 'Elsewhere',
      );
      await until(
        'four bars',
        () => count('main .score [data-note]'),
        (notes) => notes >= 14 && notes <= 20,
      );
      await engine.type(keys.Escape);

      await press(`document.querySelector('[data-note][aria-label^="Bar 2, beat 1:"]')`);
      await until(
        'ways',
        () => count('[data-way]'),
        (ways) => ways > 1,
      );
      await engine.type(keys.ArrowDown);
      await until(
        'a way tried',
        () => count('[data-way][aria-pressed="true"]'),
        (pressed) => pressed === 1,
      );
      await engine.type(keys.Enter);

      await pressButton('Limits');
      await until(
        'the panel',
        () => count('#panel-limits select'),
        (selects) => selects > 0,
      );
      await until(
        'the pin',
        () => textOf('#panel-limits'),
        (text) => text.includes('One note is pinned.'),
      );
      await engine.run(`
        const stay = [...document.querySelectorAll('#panel-limits select')].find((one) => one.options.length > 2);
        stay.selectedIndex = 2;
        stay.dispatchEvent(new Event('change', { bubbles: true }));`);
      const chosen = (): Promise<string> =>
        engine.run(
          `return [...document.querySelectorAll('#panel-limits select')].map((one) => one.selectedIndex).join()`,
        );
      const limits = await chosen();
      await isSaved();

      await engine.reload();
      await ready();
      await isTitled('Elsewhere');
      await pressButton('Limits');
      await until(
        'the pin',
        () => textOf('#panel-limits'),
        (text) => text.includes('One note is pinned.'),
      );
      expect(await chosen()).toBe(limits);
      await engine.type(keys.Escape);
    });

    it('prints one page with the line on it, and none that is blank', async (test) => {
      const pdf = await engine.print();
      if (pdf === null) return test.skip('the engine gives no PDF');
      const ink = inkOnPages(pdf);
      expect(ink).toHaveLength(1);
      expect(ink[0]).toBeGreaterThan(20);
      // The screen is back.
      await ready();
    });

    it('opens without a connection, makes a new take and keeps it', async () => {
      const worker = await engine.run<string>(`
        return Promise.race([
          navigator.serviceWorker.ready.then(() => 'ready'),
          new Promise((resolve) => setTimeout(() => resolve('none'), 60_000)),
        ])`);
      expect(worker).toBe('ready');
      await engine.reload();
      await ready();
      await host.close();
      await engine.reload();
      await ready();
      await isTitled('Elsewhere');
      const take = (): Promise<string> =>
        engine.run(
          `return [...document.querySelectorAll('header button')].map((one) => one.textContent.trim()).find((text) => text.startsWith('Take'))`,
        );
      const before = await take();
      await pressButton('New take');
      await until('another take', take, (now) => now !== before);
      const after = await take();
      await engine.reload();
      await ready();
      await until('the take', take, (now) => now === after);
    });

    it('was told of no error on the way', () => {
      // What a reload cuts off while it is on its way is told by Firefox as a fault of the worker; the page is gone by then.
      const cutOff = /A ServiceWorker intercepted the request and encountered an unexpected error/;
      expect(engine.errors.filter((error) => !cutOff.test(error))).toEqual([]);
    });
  });
});
