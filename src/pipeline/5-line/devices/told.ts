// The devices that are told of a whole line, on the staff, in text and in files: each note belongs to one at most.
import { deviceOf } from './rows';
import type { DeviceSpan } from './spans';

const isTold = ({ device }: DeviceSpan): boolean =>
  deviceOf(device).family === 'device' || deviceOf(device).family === 'approach';

/** Of the approaches and devices those that no longer one shares a note with, in the order in which they begin. */
export function toldSpans(spans: readonly DeviceSpan[]): readonly DeviceSpan[] {
  const taken = new Set<number>();
  return spans
    .filter(isTold)
    .toSorted((a, b) => b.notes.length - a.notes.length)
    .filter(({ notes }) => {
      if (notes.some((index) => taken.has(index))) return false;
      for (const index of notes) taken.add(index);
      return true;
    })
    .toSorted((a, b) => a.notes[0]! - b.notes[0]!);
}
