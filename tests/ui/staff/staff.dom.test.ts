// The staff on the page: what can be pressed, what is said, and that playing leaves the picture as it is.
import { cleanup, fireEvent, render, screen, within } from '@testing-library/svelte';
import { tick } from 'svelte';
import { afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { defaultInstrument, positionName } from '../../../src/instrument';
import { barIndex } from '../../../src/music';
import type { BarRange } from '../../../src/playback';
import { onpainted } from '../../../src/ui/shared/painted';
import { Staff } from '../../../src/ui/staff';
import { makeLine, makeTimeline, type MadeNote } from '../../notation/made';

const timeline = makeTimeline([
  { chords: ['F7'] },
  { chords: ['Bb7'] },
  { chords: ['F7'] },
  { chords: ['Cm7', 'F7'] },
  { chords: ['Bb7'] },
]);
const rows: readonly MadeNote[] = Array.from({ length: 20 }, (_, index): MadeNote =>
  index % 4 === 2
    ? {
        pitch: 'D2',
        string: 2,
        finger: '0',
        position: index % 8 === 2 ? 7 : 2,
        carriedFrom: index % 8 === 2 ? 2 : 7,
      }
    : { pitch: 'F1', string: 4, position: index % 8 < 2 || index % 8 > 6 ? 2 : 7, role: 'third' },
);
const line = makeLine(timeline, rows);

const base = {
  timeline,
  line,
  selected: null as number | null,
  sounding: null as number | null,
  selectedBars: null as BarRange | null,
  instrument: defaultInstrument,
  positionName,
  width: 1060,
  onselect: vi.fn(),
};
const notes = (): HTMLElement[] =>
  screen.queryAllByRole('button').filter((button) => button.dataset['note'] !== undefined);
const note = (index: number): HTMLElement => notes().find((one) => one.dataset['note'] === String(index))!;
const bars = (): HTMLElement[] =>
  screen.queryAllByRole('button').filter((button) => button.dataset['bar'] !== undefined);

beforeAll(() => {
  Element.prototype.scrollIntoView = vi.fn();
  vi.stubGlobal('matchMedia', () => ({ matches: false }));
  // No layout here: widths are given.
  vi.stubGlobal(
    'ResizeObserver',
    class {
      observe = vi.fn();
      unobserve = vi.fn();
      disconnect = vi.fn();
    },
  );
});
afterEach(() => {
  cleanup();
  vi.clearAllMocks();
});

describe('the staff', () => {
  it('is a picture with a name for every line of music, and a text to read instead', () => {
    render(Staff, base);
    const pictures = screen.getAllByRole('img');
    expect(pictures.map((picture) => picture.getAttribute('aria-label'))).toEqual([
      'Bass staff, bars 1 to 4: F 7; B flat 7; F 7; C minor 7, F 7',
      'Bass staff, bar 5: B flat 7',
    ]);
    const items = within(screen.getByRole('list')).getAllByRole('listitem');
    expect(items).toHaveLength(5);
    expect(items[0]!.textContent).toContain('Bar 1, F 7: F, finger 1, string E, in I');
  });

  it('draws the way of the hand under every line, and leaves it out when asked', async () => {
    const { container, rerender } = render(Staff, base);
    expect(container.querySelectorAll('svg.strip')).toHaveLength(2);
    const marks = (kind: string): number =>
      [...container.querySelectorAll(`svg.strip .${kind}:not(.lit)`)]
        .map((path) => path.getAttribute('d')?.match(/M/g)?.length ?? 0)
        .reduce((sum, count) => sum + count, 0);
    expect([marks('ring'), marks('stop')]).toEqual([5, 15]);
    await rerender({ showTravel: false });
    expect(container.querySelectorAll('svg.strip')).toHaveLength(0);
  });

  it('sets open strings apart by their digit and a class, not by colour alone', () => {
    const { container } = render(Staff, base);
    const fingers = (look: string): string[] =>
      [...container.querySelectorAll(`.${look} .fingers`)].map((digits) => digits.textContent);
    expect(fingers('open')).toEqual(['0000', '0']);
    expect(fingers('stopped')).toEqual(['1'.repeat(12), '111']);
  });

  it('keeps the bars and their chords when there is no line', () => {
    const { container } = render(Staff, { ...base, line: null });
    const symbols = [...container.querySelectorAll('text')].filter((text) => /[♭7]/.test(text.textContent));
    expect(symbols.map((text) => text.textContent)).toEqual(['F7', 'B♭7', 'F7', 'Cm7', 'F7', 'B♭7']);
    expect(notes()).toEqual([]);
    expect(container.querySelectorAll('svg.strip')).toHaveLength(0);
  });

  it('shows roles in words when asked', async () => {
    const { container, rerender } = render(Staff, base);
    expect(container.querySelector('.roles')).toBeNull();
    await rerender({ showRoles: true });
    const roles = [...container.querySelectorAll('.roles tspan')].map((role) => role.textContent);
    expect(roles).toEqual(line.notes.map(({ role }) => role));
  });

  it('brackets and names devices when asked', async () => {
    const devices = [{ device: 'double chromatic below', notes: [2, 3], target: 4 }] as const;
    const { container, rerender } = render(Staff, { ...base, line: { ...line, devices } });
    expect(container.querySelector('.device-names')).toBeNull();
    await rerender({ showDevices: true });
    expect(container.querySelector('.device-names')?.textContent).toContain('chromatic');
    expect(container.querySelector('path.devices')?.getAttribute('d')).toMatch(/^M[\d.]+ [\d.]+V/);
  });

  it('is dimmed, not blanked, while a newer line is worked out', () => {
    const { container } = render(Staff, { ...base, dimmed: true });
    expect(container.querySelector('.staff.dimmed')).not.toBeNull();
    expect(notes()).toHaveLength(20);
  });
});

describe('pressing', () => {
  it('selects the note of a column', async () => {
    render(Staff, base);
    await fireEvent.click(note(6));
    expect(base.onselect).toHaveBeenCalledExactlyOnceWith(6);
  });

  it('says everything about a beat, and which one is selected', () => {
    render(Staff, { ...base, selected: 2 });
    expect(note(2).getAttribute('aria-label')).toBe(
      'Bar 1, beat 3: D 2, string D open, hand going from I to IV; root, over F 7',
    );
    expect(notes().filter((one) => one.getAttribute('aria-pressed') === 'true')).toEqual([note(2)]);
  });

  it('has one stop for the Tab key, at the selected note', async () => {
    const { rerender } = render(Staff, base);
    const stops = (): string[] =>
      notes().flatMap((one) => (one.tabIndex === 0 ? [one.dataset['note']!] : []));
    expect(stops()).toEqual(['0']);
    await rerender({ selected: 17 });
    expect(stops()).toEqual(['17']);
    await rerender({ selected: 400 });
    expect(stops()).toEqual(['0']);
  });

  it('takes the focus along when the selection moves, but not while the music plays', async () => {
    const { rerender } = render(Staff, { ...base, selected: 3 });
    note(3).focus();
    await rerender({ selected: 4 });
    expect(document.activeElement).toBe(note(4));
    await rerender({ selected: 5, sounding: 5 });
    expect(document.activeElement).toBe(note(4));
  });

  it('leaves the focus alone when it is elsewhere', async () => {
    const { rerender } = render(Staff, { ...base, selected: 3 });
    await rerender({ selected: 4 });
    expect(document.activeElement).toBe(document.body);
  });
});

describe('bars', () => {
  it('can be chosen when the page wants to know, with Shift to extend', async () => {
    const onselectbar = vi.fn();
    render(Staff, { ...base, onselectbar });
    expect(bars()).toHaveLength(5);
    await fireEvent.click(bars()[1]!);
    await fireEvent.click(bars()[3]!, { shiftKey: true });
    expect(onselectbar.mock.calls).toEqual([
      [1, false],
      [3, true],
    ]);
  });

  it('are no buttons otherwise', () => {
    render(Staff, base);
    expect(bars()).toEqual([]);
  });

  it('show the chosen ones on every line, by shape and to a voice', () => {
    const { container } = render(Staff, {
      ...base,
      onselectbar: vi.fn(),
      selectedBars: { from: barIndex(2), to: barIndex(4) },
    });
    expect(container.querySelectorAll('.chosen-edge')).toHaveLength(2);
    expect(bars().map((bar) => bar.getAttribute('aria-pressed'))).toEqual([
      'false',
      'false',
      'true',
      'true',
      'true',
    ]);
  });

  it('are gone through with left and right, which the page does not hear', async () => {
    const heard = vi.fn();
    document.body.addEventListener('keydown', heard);
    render(Staff, { ...base, onselectbar: vi.fn() });
    expect(bars().filter((bar) => bar.tabIndex === 0)).toHaveLength(1);
    bars()[0]!.focus();
    await fireEvent.keyDown(bars()[0]!, { key: 'ArrowRight' });
    expect(document.activeElement).toBe(bars()[1]);
    expect(heard).not.toHaveBeenCalled();
    await fireEvent.keyDown(note(0), { key: 'ArrowRight' });
    expect(heard).toHaveBeenCalledOnce();
    document.body.removeEventListener('keydown', heard);
  });
});

describe('while the music plays', () => {
  /** What changes within some elements while a deed is done. */
  async function changesWithin(
    elements: readonly Element[],
    deed: () => Promise<void>,
  ): Promise<MutationRecord[]> {
    const changes: MutationRecord[] = [];
    const observer = new MutationObserver((records) => changes.push(...records));
    for (const element of elements)
      observer.observe(element, { subtree: true, childList: true, attributes: true, characterData: true });
    await deed();
    await tick();
    changes.push(...observer.takeRecords());
    observer.disconnect();
    return changes;
  }

  it('changes a few attributes of the light, and nothing of any line of music', async () => {
    const { container, rerender } = render(Staff, { ...base, sounding: 5, selected: 5 });
    const play = async (): Promise<void> => {
      for (const index of [6, 7, 8]) await rerender({ sounding: index, selected: index });
    };
    const drawings = [...container.querySelectorAll('svg.system, svg.strip')];
    expect(drawings).toHaveLength(4);
    expect(await changesWithin(drawings, play)).toEqual([]);
    const beat = await changesWithin([container], () => rerender({ sounding: 9, selected: 9 }));
    expect(beat.every(({ type }) => type !== 'childList')).toBe(true);
    expect(beat.length).toBeLessThan(30);
    expect(container.querySelectorAll('.ink.lit')).toHaveLength(1);
    expect(container.querySelectorAll('.light .now:not(path)')).toHaveLength(1);
    // Where another line of music begins the light goes over to it, and the lines stay as they are.
    expect(await changesWithin(drawings, () => rerender({ sounding: 17, selected: 17 }))).toEqual([]);
  });

  it('has the light at the note that sounds, with its own finger and stroke on the strip', async () => {
    const { container, rerender } = render(Staff, { ...base, sounding: 5 });
    const light = container.querySelector<HTMLElement>('.light.live')!;
    const lit = (): unknown[] => [
      light.querySelector('.fingers')?.textContent,
      light.querySelectorAll('path.now').length,
      light.querySelectorAll('.mark, path.chosen').length,
    ];
    const placeOf = (): number[] => (light.style.transform.match(/[\d.]+/g) ?? []).map(Number);
    expect(lit()).toEqual(['1', 1, 0]);
    const [x = 0, y] = placeOf();
    expect(y).toBe(0);
    expect(Math.abs(x - Number.parseFloat(note(5).style.left))).toBeLessThan(80);
    await rerender({ sounding: 18 });
    expect(lit()).toEqual(['0', 1, 0]);
    const [first] = container.querySelectorAll('svg.system, svg.strip');
    expect(placeOf()[1]).toBeGreaterThan(Number(first?.getAttribute('height')));
    await rerender({ sounding: null });
    expect(light.childElementCount).toBe(0);
  });

  it('shows one mark where the sounding note is the selected one', async () => {
    const { container, rerender } = render(Staff, { ...base, sounding: 5, selected: 5 });
    const shown = (): number[] =>
      ['.light .now:not(path)', '.light .mark'].map((css) => container.querySelectorAll(css).length);
    expect(shown()).toEqual([1, 0]);
    await rerender({ selected: 7 });
    expect(shown()).toEqual([1, 1]);
  });

  it('scrolls when another line of music begins, not on every beat, once the beat is painted', async () => {
    const scroll = vi.mocked(Element.prototype.scrollIntoView);
    const painted = (): Promise<void> => new Promise((resolve) => onpainted(resolve));
    // One line of music fills the window, the next ones lie below.
    vi.spyOn(Element.prototype, 'getBoundingClientRect').mockImplementation(function (this: HTMLElement) {
      return new DOMRect(0, Number(this.dataset['system'] ?? 0) * innerHeight, 800, innerHeight);
    });
    const { rerender } = render(Staff, { ...base, sounding: 0 });
    expect(scroll).not.toHaveBeenCalled();
    await painted();
    expect(scroll).toHaveBeenCalledOnce();
    await rerender({ sounding: 7 });
    await painted();
    expect(scroll).toHaveBeenCalledOnce();
    await rerender({ sounding: 16 });
    await painted();
    expect(scroll).toHaveBeenCalledTimes(2);
    await rerender({ sounding: 0, follow: false });
    await painted();
    expect(scroll).toHaveBeenCalledTimes(2);
  });
});

describe('printing', () => {
  it('lays the staff out for the paper and back', async () => {
    const { container } = render(Staff, { ...base, width: 360 });
    const lines = (): number => container.querySelectorAll('svg.system').length;
    expect(lines()).toBe(3);
    await fireEvent(window, new Event('beforeprint'));
    expect(lines()).toBe(2);
    await fireEvent(window, new Event('afterprint'));
    expect(lines()).toBe(3);
  });
});
