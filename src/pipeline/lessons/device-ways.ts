// Devices as steps into a note: every way to play one, what its notes may be, and how far off its target a note of it may lie.
import type { SoundingMidi } from '../../music';
import type { Slot } from '../2-timeline';
import { degreeIn, deviceOf, isBassNote, isChordNote, type DeviceId, type DevicePattern } from '../5-line';

/** One way to play a device, as steps into the note at `target`. */
export interface WayOfDevice {
  readonly device: DeviceId;
  readonly first: number;
  readonly steps: readonly ReadonlySet<number>[];
}

const patternOf = (device: DeviceId): DevicePattern => deviceOf(device).pattern!;
const lengthOf = (device: DeviceId): number => patternOf(device).shapes[0]!.length;

/** Notes of the chord that a device takes beside the one that opens it: where it may cross, that one is its first. */
export const roomFor = (device: DeviceId): number => lengthOf(device) - (patternOf(device).crosses ? 1 : 0);

export const deviceWaysInto = (choice: readonly DeviceId[], target: number): readonly WayOfDevice[] =>
  choice.flatMap((device) =>
    patternOf(device).shapes.map((shape) => ({
      device,
      first: target - shape.length,
      steps: shape.map((steps) => new Set(steps)),
    })),
  );

/** Whether a note may stand at a place of a device into the target. */
export function fitsWay({ device }: WayOfDevice, slot: Slot, target: Slot, midi: SoundingMidi): boolean {
  const { notes } = patternOf(device);
  const { place } = degreeIn(slot.harmony, midi);
  switch (notes) {
    case 'any':
      return true;
    case 'inside':
      return place !== 'outside';
    case 'chord':
      return isChordNote(degreeIn(slot.harmony, midi));
    case 'scale':
      return place === 'scale';
    case 'outside':
      return place === 'outside';
    case 'either':
      return place !== 'outside' || degreeIn(target.harmony, midi).place !== 'outside';
  }
}

/** Whether a device may lead to a note. */
export function isTargetOf({ device }: WayOfDevice, target: Slot, midi: SoundingMidi): boolean {
  const wanted = patternOf(device).target;
  if (wanted === 'any') return true;
  return wanted === 'chord' ? isChordNote(degreeIn(target.harmony, midi)) : isBassNote(target.harmony, midi);
}

/** Distances from a note of a way to its target that its remaining steps can add up to. */
export function distancesFrom({ steps, first }: WayOfDevice, slot: number): ReadonlySet<number> {
  return steps
    .slice(slot - first)
    .reduce<ReadonlySet<number>>(
      (sums, some) => new Set([...sums].flatMap((sum) => [...some].map((step) => sum + step))),
      new Set([0]),
    );
}
