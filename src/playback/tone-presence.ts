// The presence of the bass as audio nodes; `presence.ts` is the same in arithmetic.
import { computedBassLift, presence } from './mix';
import { Filter, Gain, WaveShaper, type BaseContext } from './tone-library';

const clamped = (value: number): number => Math.min(1, Math.max(-1, value));

/** What the sampled bass goes through on its way to the level: some lift in the middle, and overtones of what is too low to hear. */
export function presenceStage(context: BaseContext, to: Gain): { readonly input: Gain; dispose(): void } {
  const input = new Gain({ context, gain: 1 });
  const lift = new Filter({
    context,
    type: 'peaking',
    frequency: presence.peakHertz,
    gain: presence.peakDecibels,
    Q: presence.peakQ,
  });
  const drive = new WaveShaper({
    context,
    mapping: (value: number) => Math.tanh(presence.drive * clamped(value)) / presence.drive,
    length: 2048,
  });
  const above = new Filter({ context, type: 'highpass', frequency: presence.overtonesAboveHertz });
  const share = new Gain({ context, gain: presence.overtonesShare });
  input.chain(lift, to);
  input.chain(drive, above, share, to);
  const nodes = [input, lift, drive, above, share];
  return {
    input,
    dispose: () => {
      for (const node of nodes) node.dispose();
    },
  };
}

/** What the computed bass goes through: a lift of the middle. */
export function liftStage(context: BaseContext, to: Gain): Filter {
  const { hertz, decibels, q } = computedBassLift;
  const lift = new Filter({ context, type: 'peaking', frequency: hertz, gain: decibels, Q: q });
  lift.connect(to);
  return lift;
}
