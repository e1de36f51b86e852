// Pins go along with their bars where bars were put in or taken out before them, as the notes of the line do.
import { numberOfBar, barNumber, type BarNumber } from '../music';
import { placeKept, type KeptBar, type Pin } from '../pipeline';
import type { Study } from './study';

export interface PinsAlong {
  readonly pins: readonly Pin[];
  /** Numbered as the bars are now; those that are gone are left out. */
  readonly kept: readonly KeptBar[];
  /** Locked bars that are gone. */
  readonly lostLocks: number;
}

/**
 * Where pins lie once their bars have moved: a pin with the bar that was kept, one whose bar is not found again as far on as
 * the bar before it, and one for which no bar is left before the next that was kept nowhere: its own was taken out. So pins
 * keep their order, and no two bars' pins come to lie in one.
 * @param marks what the bars of the form are now made of, in playing order (`barMarks`)
 * @returns null where all pins lie as they should
 */
export function pinsAlong(
  { pins, kept }: Pick<Study, 'pins' | 'kept'>,
  marks: readonly string[],
): PinsAlong | null {
  const { held, free, lostLocks } = placeKept(kept, marks);
  const placed = [...held, ...free].sort(([a], [b]) => a - b);
  const moves = new Map<BarNumber, BarNumber>(placed.map(([index, { bar }]) => [bar, numberOfBar(index)]));
  const moved = pins.flatMap((pin): readonly Pin[] => {
    const own = moves.get(pin.bar);
    if (own !== undefined) return own === pin.bar ? [pin] : [{ ...pin, bar: own }];
    const before = placed.findLast(([, { bar }]) => bar < pin.bar);
    const after = placed.find(([, { bar }]) => bar > pin.bar);
    const bar = before ? barNumber(pin.bar + numberOfBar(before[0]) - before[1].bar) : pin.bar;
    if (after && bar >= numberOfBar(after[0])) return [];
    return bar === pin.bar ? [pin] : [{ ...pin, bar }];
  });
  const isSame = moved.length === pins.length && moved.every((pin, place) => pin === pins[place]);
  if (isSame) return null;
  const renumbered = placed.map(([index, bar]): KeptBar => ({ ...bar, bar: numberOfBar(index) }));
  return { pins: moved, kept: renumbered, lostLocks };
}
