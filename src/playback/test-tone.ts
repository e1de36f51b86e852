// A plain tone, to find out whether anything is heard at all: no samples, no music, two nodes.
import { resume } from './context';

const seconds = 1;
/** Hz: high enough for the speaker of a phone. */
const pitch = 440;
const size = 0.25;
const edge = 0.03;

/** Plays the tone once the context runs; must be called in the gesture itself. Resolves when it is over. */
export async function playTestTone(context: AudioContext): Promise<void> {
  await resume(context);
  const source = new OscillatorNode(context, { frequency: pitch });
  const level = new GainNode(context, { gain: 0 });
  source.connect(level).connect(context.destination);
  const start = context.currentTime + 0.02;
  level.gain.setValueAtTime(0, start);
  level.gain.linearRampToValueAtTime(size, start + edge);
  level.gain.setValueAtTime(size, start + seconds - edge);
  level.gain.linearRampToValueAtTime(0, start + seconds);
  source.start(start);
  source.stop(start + seconds);
  await new Promise((resolve) => {
    source.onended = resolve;
  });
  level.disconnect();
}
