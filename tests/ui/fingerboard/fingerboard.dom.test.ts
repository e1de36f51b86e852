import { cleanup, fireEvent, render, screen, within } from '@testing-library/svelte';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import {
  defaultHand,
  defaultInstrument,
  positionName,
  shortPositionName,
  type HandPosition,
  type Placement,
} from '../../../src/instrument';
import {
  Fingerboard,
  FingerboardTable,
  wholeEndStop,
  type PricedPlacement,
} from '../../../src/ui/fingerboard';
import { boardOf } from './boards';
import { madeLine, madeTimeline } from './made-line';

// A DOM without layout: the box of the map is given.
const box = { width: 1100, height: 300 };

beforeEach(() => {
  box.width = 1100;
  box.height = 300;
  vi.stubGlobal(
    'ResizeObserver',
    class {
      observe(): void {
        return;
      }
      unobserve(): void {
        return;
      }
      disconnect(): void {
        return;
      }
    },
  );
  vi.spyOn(HTMLElement.prototype, 'clientWidth', 'get').mockImplementation(() => box.width);
  vi.spyOn(HTMLElement.prototype, 'clientHeight', 'get').mockImplementation(() => box.height);
});
afterEach(() => {
  cleanup();
  vi.restoreAllMocks();
  vi.unstubAllGlobals();
});

const props = {
  instrument: defaultInstrument,
  hand: defaultHand,
  line: madeLine,
  timeline: madeTimeline,
  selected: 6,
  sounding: null,
  barred: [] as readonly HandPosition[],
  positionName,
  dimmed: false,
  reducedMotion: true,
  orientation: 'auto',
  leftHanded: false,
} as const;

const translation = (element: Element | null | undefined): readonly number[] =>
  [...(element as HTMLElement).style.transform.matchAll(/-?[\d.]+(?=px)/g)].map((match) => Number(match[0]));
const marks = (container: Element): HTMLElement[] => [...container.querySelectorAll<HTMLElement>('.mark')];
const seen = (container: Element): HTMLElement[] =>
  marks(container).filter((mark) => Number(mark.style.opacity) > 0);

describe('what the map says', () => {
  it('names the selected note, its place and what the hand does', () => {
    render(Fingerboard, props);
    expect(
      screen.getByRole('img', { name: 'Bar 2, beat 3, D 2, open string D, hand going from V½ to IV' }),
    ).toBeTruthy();
  });

  it('names the sounding note before the selected one', () => {
    render(Fingerboard, { ...props, sounding: 0 });
    expect(screen.getByRole('img').getAttribute('aria-label')).toMatch(/^Bar 1, beat 1, B flat 1, string E/);
  });

  it('says that there is no line, or that no beat is selected', async () => {
    const { rerender } = render(Fingerboard, { ...props, line: null });
    expect(screen.getByRole('img').getAttribute('aria-label')).toContain('No line yet');
    await rerender({ ...props, selected: null });
    expect(screen.getByRole('img').getAttribute('aria-label')).toContain(
      'line of 16 notes. No beat is selected',
    );
  });

  it('tells how far the drawing is stretched across the strings', () => {
    render(Fingerboard, props);
    expect(screen.getByText(/^Along the strings to scale; across, \d\.\d times as wide\./)).toBeTruthy();
  });

  it('is busy while a new line is sought', () => {
    const { container } = render(Fingerboard, { ...props, dimmed: true });
    expect(container.querySelector('figure')?.getAttribute('aria-busy')).toBe('true');
  });

  it('has no live region that would babble while playing', () => {
    const { container } = render(Fingerboard, { ...props, sounding: 3 });
    expect(container.querySelector('[aria-live], [role=status], [role=alert]')).toBeNull();
  });
});

describe('what the map shows', () => {
  it('marks the current note with its finger and the six that follow', () => {
    const { container } = render(Fingerboard, props);
    const now = container.querySelector('.mark.now');
    expect(now?.textContent?.trim()).toBe('0');
    const ahead = seen(container).filter((mark) => !mark.classList.contains('past'));
    expect(
      ahead.map((mark) => Number(mark.querySelector('button')?.dataset['note'])).toSorted((a, b) => a - b),
    ).toEqual([6, 7, 8, 9, 10, 11, 12]);
  });

  it('puts the current mark where the geometry says, nut left when wide', () => {
    const { container } = render(Fingerboard, { ...props, selected: 0 });
    const board = boardOf({ endStop: wholeEndStop });
    const { placement } = madeLine.notes[0]!;
    const spot = board.point(placement.string, placement.stop);
    const [x, y] = translation(container.querySelector('.mark.now'));
    expect(x).toBeCloseTo(spot.x, 3);
    expect(y).toBeCloseTo(spot.y, 3);
  });

  it('mirrors the places and nothing else on a left-handed bass', () => {
    const right = render(Fingerboard, { ...props, selected: 0 });
    const [x, y] = translation(right.container.querySelector('.mark.now'));
    cleanup();
    const left = render(Fingerboard, { ...props, selected: 0, leftHanded: true });
    const [mirroredX, mirroredY] = translation(left.container.querySelector('.mark.now'));
    expect(mirroredX).toBeCloseTo(box.width - x!, 3);
    expect(mirroredY).toBeCloseTo(y!, 3);
    for (const element of left.container.querySelectorAll<HTMLElement | SVGElement>('text, button, b')) {
      expect(element.style.transform).not.toMatch(/scale|matrix/);
    }
  });

  it('stands up in a tall box, nut on top', () => {
    Object.assign(box, { width: 390, height: 640 });
    const { container } = render(Fingerboard, { ...props, selected: 6 });
    const [, open] = translation(container.querySelector('.mark.now'));
    expect(container.querySelector('figure.portrait')).not.toBeNull();
    expect(open).toBeLessThan(100);
  });

  it('obeys an orientation that is asked for', () => {
    const { container } = render(Fingerboard, { ...props, orientation: 'portrait' });
    expect(container.querySelector('figure.portrait')).not.toBeNull();
  });

  it('makes and removes no element while a line plays', async () => {
    const { container, rerender } = render(Fingerboard, { ...props, sounding: 0 });
    const before = [...container.querySelectorAll('*')];
    for (let sounding = 1; sounding < madeLine.notes.length; sounding++) {
      await rerender({ ...props, sounding });
    }
    expect([...container.querySelectorAll('*')]).toEqual(before);
    expect(container.querySelector('.moving')?.getAttribute('data-position')).toBe('4');
  });

  it('marks barred positions with a word, once for a run', () => {
    const barred = [1, 2, 5] as unknown as readonly HandPosition[];
    const { container } = render(Fingerboard, { ...props, barred });
    expect(screen.getAllByText('barred')).toHaveLength(2);
    expect(container.querySelectorAll('path.barred')).toHaveLength(3);
  });
});

describe('what the map takes', () => {
  it('selects the note whose mark is pressed', async () => {
    const onselect = vi.fn();
    const { container } = render(Fingerboard, { ...props, onselect });
    await fireEvent.click(container.querySelector('button[data-note="9"]')!);
    expect(onselect).toHaveBeenCalledExactlyOnceWith(9);
  });

  it('bars a position from the edge, when it may', async () => {
    const onbar = vi.fn();
    render(Fingerboard, {
      ...props,
      barred: [2 as HandPosition],
      highestBarrable: 7 as HandPosition,
      positionName: shortPositionName,
      onbar,
    });
    const switches = within(screen.getByRole('group', { name: 'Positions' })).getAllByRole('button');
    expect(switches).toHaveLength(7);
    expect(switches[1]!.getAttribute('aria-pressed')).toBe('true');
    await fireEvent.click(screen.getByRole('button', { name: 'Keep the hand out of III' }));
    expect(onbar).toHaveBeenCalledExactlyOnceWith(5);
  });
});

describe('prices', () => {
  const priced = (change: Partial<Placement>, price: number, pitchName: string): PricedPlacement => ({
    placement: { ...madeLine.notes[0]!.placement, ...change },
    price,
    pitchName,
  });
  const prices: readonly PricedPlacement[] = [
    priced(madeLine.notes[6]!.placement, 0, 'D2'),
    priced({ string: 3 as never, stop: 5 as never, finger: '1', position: 5 as never }, 700, 'D2'),
    priced({ string: 3 as never, stop: 5 as never, finger: '4', position: 3 as never }, 900, 'D2'),
    priced({ string: 1 as never, stop: 8 as never, finger: '2', position: 7 as never }, 1900, 'E♭3'),
  ];

  it('are buttons that say what a spot is and costs', () => {
    render(Fingerboard, { ...props, prices });
    const group = screen.getByRole('group', { name: 'Prices at this beat' });
    expect(
      within(group)
        .getAllByRole('button')
        .map((button) => button.textContent),
    ).toEqual(['0', '+0.7', '+1.9']);
    expect(
      within(group).getByRole('button', {
        name: 'D2, string A, 1st finger, in III, price +0.7, cheapest of 2 ways',
      }),
    ).toBeTruthy();
  });

  it('tell what the way that is taken costs beside its mark, when it is not the cheapest', () => {
    const dearer = [
      { ...prices[0]!, price: 400 },
      { ...prices[1]!, price: 0 },
    ];
    const { container } = render(Fingerboard, { ...props, prices: dearer });
    const taken = container.querySelectorAll('.prices .taken');
    expect([...taken].map((button) => button.textContent)).toEqual(['+0.4']);
    expect(container.querySelector('.mark.now')?.textContent?.trim()).toBe('0');
  });

  it('pin what is pressed', async () => {
    const onplacement = vi.fn();
    render(Fingerboard, { ...props, prices, onplacement });
    await fireEvent.click(screen.getByRole('button', { name: /E♭3/ }));
    expect(onplacement).toHaveBeenCalledExactlyOnceWith(prices[3]!.placement);
  });

  it.each([false, true])(
    'pin the spot under a tap beside the label (left-handed: %s)',
    async (leftHanded) => {
      const onplacement = vi.fn();
      const { container } = render(Fingerboard, { ...props, prices, leftHanded, onplacement });
      const spot = boardOf({ endStop: wholeEndStop, leftHanded }).point(3 as never, 5);
      const stage = container.querySelector('.stage')!;
      await fireEvent.click(stage, { clientX: spot.x + 12, clientY: spot.y + 4 });
      expect(onplacement).toHaveBeenCalledExactlyOnceWith(prices[1]!.placement);
      const mirrored = boardOf({ endStop: wholeEndStop, leftHanded: !leftHanded }).point(3 as never, 5);
      await fireEvent.click(stage, { clientX: mirrored.x, clientY: mirrored.y });
      expect(onplacement).toHaveBeenCalledTimes(1);
    },
  );

  it.each([
    [false, 'ArrowRight'],
    [true, 'ArrowLeft'],
  ])('are walked through by arrows as they lie on the screen (left-handed: %s)', async (leftHanded, key) => {
    render(Fingerboard, { ...props, prices, leftHanded, onplacement: vi.fn() });
    const buttons = within(screen.getByRole('group', { name: 'Prices at this beat' })).getAllByRole('button');
    expect(buttons.filter((button) => button.tabIndex === 0)).toEqual([buttons[0]]);
    buttons[0]!.focus();
    await fireEvent.keyDown(buttons[0]!, { key });
    expect(document.activeElement).toBe(buttons[1]);
    expect(buttons[1]!.tabIndex).toBe(0);
  });
});

describe('the table twin', () => {
  const table = { instrument: defaultInstrument, line: madeLine, current: 6, positionName };

  it('is empty until it is opened, then has a row a note', async () => {
    render(FingerboardTable, table);
    expect(screen.queryByRole('table')).toBeNull();
    const details = screen.getByText('The route as a table').closest('details')!;
    details.open = true;
    await fireEvent(details, new Event('toggle'));
    const rows = within(screen.getByRole('table')).getAllByRole('row');
    expect(rows).toHaveLength(1 + madeLine.notes.length);
    const cells = (row: HTMLElement): string[] =>
      [...row.children].map((cell) => cell.textContent?.trim() ?? '');
    expect(cells(rows[7]!)).toEqual(['2, beat 3', 'D2', 'D', 'open', 'open', 'IV', '353', 'covered shift']);
    // Position I½-free check of the millimetres: III½ is six semitones up, 1060 (1 - 2^(-6/12)) = 310.5 mm.
    expect(cells(rows[1]!).at(6)).toBe('310');
    expect(rows[7]!.getAttribute('aria-current')).toBe('true');
  });

  it('selects by its buttons', async () => {
    const onselect = vi.fn();
    render(FingerboardTable, { ...table, onselect });
    const details = screen.getByText('The route as a table').closest('details')!;
    details.open = true;
    await fireEvent(details, new Event('toggle'));
    await fireEvent.click(screen.getByRole('button', { name: '3, beat 1' }));
    expect(onselect).toHaveBeenCalledExactlyOnceWith(8);
  });
});
