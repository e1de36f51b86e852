// The page of the command line and the staff of the screen are two drawings of one layout: mark for mark the same.
import { render } from '@testing-library/svelte';
import { describe, expect, it } from 'vitest';
import { defaultInstrument, shortPositionName } from '../../src/instrument';
import { layoutStaff, type StaffLayout } from '../../src/notation';
import { systemMarks } from '../../src/page/system';
import StaffSystem from '../../src/ui/staff/StaffSystem.svelte';
import { walked } from '../pipeline/request';

const chartText = `Title: Both Ways
Key: Eb
Tempo: 150
Feel: Swing

A:
| Eb6 Cm7 | Fm7 Bb7 | Eb7 | Ab6 Abm6 |
| Gm7b5 C7alt | Fm7 Bb7 | Eb6/G | N.C. |
`;
const { timeline, line } = walked(chartText, {
  take: { seed: 5, temperature: 1 },
  choruses: 2,
});
const layout: StaffLayout = layoutStaff(timeline, line, {
  width: 687,
  instrument: defaultInstrument,
  positionNumeral: shortPositionName,
  showRoles: true,
  showDevices: true,
});

const at = (x: number, y: number): string => `${x} ${y}`;
const sorted = (list: readonly string[]): readonly string[] => [...list].sort();

/** What an SVG shows: paths in all, places of music glyphs, and its texts letter by letter. */
function shown(svg: Element) {
  const glyphs: string[] = [];
  const strokes: string[] = [];
  const letters: string[] = [];
  for (const text of svg.querySelectorAll('text')) {
    const content = text.textContent;
    if (/[\ue000-\uf8ff]/.test(content)) {
      const [xs, ys] = ['x', 'y'].map((name) => text.getAttribute(name)!.split(' ').map(Number));
      glyphs.push(...xs!.map((x, index) => at(x, ys![index]!)));
    } else letters.push(...content.replaceAll(/\s/g, ''));
  }
  for (const path of svg.querySelectorAll('path')) {
    const place = /^translate\((\S+) (\S+)\)/.exec(path.getAttribute('transform') ?? '');
    if (place) glyphs.push(at(Number(place[1]), Number(place[2])));
    // One path or several: what is drawn are their strokes.
    else strokes.push(...(path.getAttribute('d') ?? '').split(/(?=M)/).filter((part) => part !== ''));
  }
  return { glyphs: sorted(glyphs), strokes: sorted(strokes), letters: sorted(letters) };
}

describe('every system', () => {
  it.each(layout.systems)('of bars $firstBar to $lastBar', (system) => {
    const { space, sizes } = layout;
    const props = { system, space, sizes, label: '', chosen: null, locked: [], other: [] };
    const screen = shown(render(StaffSystem, { props }).container.querySelector('svg')!);
    const page = document.createElement('div');
    page.innerHTML = `<svg>${systemMarks(system, space, sizes)}</svg>`;
    const paper = shown(page.querySelector('svg')!);
    expect(paper.letters).toEqual(screen.letters);
    expect(paper.strokes).toEqual(screen.strokes);
    expect(paper.glyphs).toEqual(screen.glyphs);
    expect(paper.glyphs.length).toBeGreaterThan(4);
  });
});
