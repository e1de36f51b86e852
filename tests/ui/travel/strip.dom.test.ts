// The strip on the page.
import { cleanup, render } from '@testing-library/svelte';
import { afterEach, describe, expect, it } from 'vitest';
import { defaultInstrument, shortPositionName } from '../../../src/instrument';
import { layoutStaff } from '../../../src/notation';
import { neckScale, notableStays, StripLight, TravelStrip } from '../../../src/ui/travel';
import { makeLine, makeTimeline, type MadeNote } from '../../notation/made';

const timeline = makeTimeline([{ chords: ['F7'] }, { chords: ['Bb7'] }]);
const stopped: MadeNote = { pitch: 'C2', position: 2 };
const open: MadeNote = { pitch: 'D2', string: 2, finger: '0', position: 7, carriedFrom: 2 };
const line = makeLine(timeline, [...Array<MadeNote>(6).fill(stopped), open, { pitch: 'C2', position: 7 }]);
const other = makeLine(timeline, Array<MadeNote>(8).fill({ pitch: 'C2', position: 7 }));
const system = layoutStaff(timeline, line, {
  width: 1060,
  instrument: defaultInstrument,
  positionNumeral: shortPositionName,
  showRoles: false,
}).systems[0]!;
const base = {
  system,
  line,
  scale: neckScale(defaultInstrument, [line], 88),
  stays: notableStays(line),
};
/** How many shapes the paths of a class hold. */
const shapes = (container: Element, selector: string): number =>
  [...container.querySelectorAll(selector)]
    .map((path) => path.getAttribute('d')?.match(/M/g)?.length ?? 0)
    .reduce((sum, count) => sum + count, 0);
const texts = (container: Element, selector: string): (string | null)[] =>
  [...container.querySelectorAll(selector)].map((one) => one.textContent.trim());

afterEach(cleanup);

describe('the travel strip', () => {
  it('names the regions, in short where the margin is narrow', async () => {
    const { container, rerender } = render(TravelStrip, base);
    expect(texts(container, '.label')).toEqual(['low', 'middle', 'neck block', 'octave']);
    await rerender({ nameLength: 'short' });
    expect(texts(container, '.label')).toEqual(['low', 'mid', 'block', 'octave']);
  });

  it('draws squares, rings and the way between them', () => {
    const { container } = render(TravelStrip, base);
    const kinds = ['.stop', '.ring', '.glide', '.stay', '.shift'];
    expect(kinds.map((kind) => shapes(container, kind))).toEqual([7, 1, 1, 6, 0]);
  });

  it('shades and names the longest stay', () => {
    const { container } = render(TravelStrip, base);
    expect(container.querySelectorAll('.shade')).toHaveLength(1);
    expect(texts(container, '.stay-label')).toEqual(['6 beats, longest stay']);
  });

  it('lays another line over, dashed and apart', () => {
    const { container } = render(TravelStrip, { ...base, other });
    expect(shapes(container, '.other path:not(.beads)')).toBe(7);
    expect(shapes(container, '.other .beads')).toBe(8);
  });

  it('marks the sounding and the selected beat at the place of their notes', () => {
    const { scale } = base;
    const light = (index: number, sounds: boolean): Element =>
      render(StripLight, { system, scale, top: 140, notes: line.notes, index, sounds }).container;
    const startOf = (container: Element, selector: string): number[] =>
      [
        ...(container
          .querySelector(selector)
          ?.getAttribute('d')
          ?.matchAll(/[\d.]+/g) ?? []),
      ].map(Number);
    const [now, chosen] = [light(3, true), light(5, false)];
    expect(startOf(now, 'path.now')[0]).toBeCloseTo(system.notes[3]!.x, 6);
    expect(startOf(now, 'path.now').slice(1)).toEqual([140, 88]);
    expect(startOf(chosen, 'path.chosen')[0]).toBeCloseTo(system.notes[5]!.x, 6);
    expect(shapes(now, '.stop.lit')).toBe(1);
    expect(shapes(light(6, true), '.ring.lit')).toBe(1);
    expect(shapes(chosen, '.lit')).toBe(0);
  });

  it('shows elbow room as a ribbon with walls where the line is boxed in', () => {
    const room = line.notes.map((_, index) => ({ choices: index === 4 ? 1.1 : 3, isBoxedIn: index === 4 }));
    const { container } = render(TravelStrip, { ...base, room });
    expect(container.querySelectorAll('.ribbon')).toHaveLength(1);
    expect(container.querySelectorAll('.wall')).toHaveLength(1);
  });
});
