import { cleanup, fireEvent, render, screen, within } from '@testing-library/svelte';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { defaultInstrument, positionName, type Placement } from '../../../src/instrument';
import { BeatPanel } from '../../../src/ui/beat';
import { costText, moveSentence } from '../../../src/ui/beat/words';
import type { PricedPlacement } from '../../../src/ui/fingerboard';
import { madeLine, madeTimeline } from '../fingerboard/made-line';

afterEach(cleanup);

const props = { line: madeLine, timeline: madeTimeline, instrument: defaultInstrument, positionName };
const priced = (price: number, change: Partial<Placement> = {}): PricedPlacement => ({
  placement: { ...madeLine.notes[6]!.placement, ...change },
  price,
  pitchName: 'D2',
});

describe('the panel of a beat', () => {
  it('names the beat, the note and how it is held, and gives the reason', () => {
    render(BeatPanel, { ...props, index: 6 });
    expect(screen.getByRole('region', { name: 'Bar 2, beat 3' })).toBeTruthy();
    expect(screen.getByText('D2').closest('p')?.textContent).toMatch(/D2\s+string D, open/);
    expect(screen.getByText(madeLine.notes[6]!.reason)).toBeTruthy();
    expect(screen.getByText('Covered shift V½ → IV: 77 mm, easy.')).toBeTruthy();
  });

  it('follows the index, and says when there is no such beat', async () => {
    const { rerender } = render(BeatPanel, { ...props, index: 0 });
    expect(screen.getByText('The hand starts in III½.')).toBeTruthy();
    await rerender({ ...props, index: 40 });
    expect(screen.getByText('There is no such beat in this line.')).toBeTruthy();
  });

  it('itemises the cost once it is opened, and what it shows adds up', async () => {
    const { container } = render(BeatPanel, { ...props, index: 6 });
    const details = container.querySelector('details')!;
    expect(details.querySelector('table')).toBeNull();
    details.open = true;
    await fireEvent(details, new Event('toggle'));
    const number = (text: string | null | undefined): number => Number((text ?? '').replace('−', '-'));
    const parts = [...container.querySelectorAll('tbody td')].map((cell) => number(cell.textContent));
    const total = number(container.querySelector('tfoot td')?.textContent);
    expect(parts).toHaveLength(3);
    expect(parts.reduce((sum, part) => sum + part, 0)).toBeCloseTo(total, 9);
    expect(total).toBe(madeLine.notes[6]!.cost / 1000);
  });
});

describe('other ways at the beat', () => {
  it('stand in order of price, the one taken marked in words', () => {
    render(BeatPanel, {
      ...props,
      index: 6,
      prices: [
        priced(900, { finger: '4', string: 3 as never, stop: 5 as never, position: 3 as never }),
        priced(0),
      ],
    });
    const items = within(screen.getByRole('region', { name: 'Other ways at this beat' })).getAllByRole(
      'listitem',
    );
    expect(items.map((item) => item.textContent?.replaceAll(/\s+/g, ' ').trim())).toEqual([
      'D2 string D, open → IV as now price 0',
      'D2 string A, 4th finger, II price +0.9',
    ]);
    expect(items.map((item) => item.getAttribute('aria-current'))).toEqual(['true', null]);
  });

  it('pin what is pressed', async () => {
    const onpin = vi.fn();
    const other = priced(900, { finger: '4', string: 3 as never, stop: 5 as never, position: 3 as never });
    render(BeatPanel, { ...props, index: 6, prices: [priced(0), other], onpin });
    await fireEvent.click(screen.getByRole('button', { name: 'D2 string A, 4th finger, II price +0.9' }));
    expect(onpin).toHaveBeenCalledExactlyOnceWith(other.placement);
  });

  it('start short and open to all', async () => {
    const prices = Array.from({ length: 9 }, (_, index) =>
      priced(index * 100, { position: (index + 1) as never }),
    );
    render(BeatPanel, { ...props, index: 6, prices });
    // Six, and the way that is taken, which comes later in the list.
    expect(screen.getAllByRole('listitem')).toHaveLength(7);
    await fireEvent.click(screen.getByRole('button', { name: 'See all 9' }));
    expect(screen.getAllByRole('listitem')).toHaveLength(9);
  });

  it('are left out while they are not known', () => {
    render(BeatPanel, { ...props, index: 6, prices: null });
    expect(screen.queryByText('Other ways at this beat')).toBeNull();
  });
});

describe('the sentences', () => {
  it('say how the hand came', () => {
    const say = (index: number, isCalibrated = false): string =>
      moveSentence(madeLine.notes[index]!, positionName, isCalibrated);
    expect(say(1)).toBe('The hand stays in III½.');
    expect(say(5)).toBe('Bare shift thumb 11 → V½: 130 mm, brisk.');
    expect(say(5, true)).toBe(
      'Bare shift thumb 11 → V½: 130 mm, about 0.18 s, so the note before ends 0.03 s early.',
    );
    const turned = { ...madeLine.notes[5]!, move: { ...madeLine.notes[5]!.move, kind: 'pivot' as const } };
    expect(moveSentence(turned, positionName, false)).toBe(
      'Pivot thumb 11 → V½: the thumb stays, the hand turns.',
    );
  });

  it('give costs all their digits and a true minus sign', () => {
    expect([costText(-834), costText(12), costText(0)]).toEqual(['−0.834', '0.012', '0.000']);
  });
});
