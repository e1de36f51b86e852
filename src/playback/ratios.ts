// The swing in force.
import { straightRatio, swingAt, type Bpm, type SwingRatios } from '../music';
import { isStraight, type Feel } from '../pipeline/1-chart';
import type { PlaybackSettings } from './types';

/** As asked, as bands play it at this tempo, or none where the feel has straight eighths. */
export function ratiosFor(
  { feel }: { readonly feel: Feel },
  swing: PlaybackSettings['swing'],
  tempo: Bpm,
): SwingRatios {
  if (isStraight(feel)) return { bass: straightRatio, cymbal: straightRatio };
  return swing === 'by tempo' ? swingAt(tempo) : { bass: swing, cymbal: swing };
}
