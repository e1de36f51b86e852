// Decaying sines: how they are added up, and how much power they hold together.
//
// A sine that falls by r a sample is y = 2 r cos(w) y' - r^2 y'' of its last two values: two multiplications a sample. Four
// run side by side, and each only until it is far under the loudest; then it fades out.

export interface VibrationMode {
  /** Hz. */
  readonly frequency: number;
  readonly amplitude: number;
  /** Fall in dB a second. */
  readonly fall: number;
  /** Phase of the cosine at the start, radians. */
  readonly phase: number;
}

/** [2 r cos w, -r^2, the last value, the one before it] */
type Recurrence = readonly [number, number, number, number];

type Four = readonly [Recurrence, Recurrence, Recurrence, Recurrence];

const nothing: Recurrence = [0, 0, 0, 0];
/** Seconds in which what is over fades out. */
const fadeSeconds = 0.02;

function recurrence({ frequency, amplitude, fall, phase }: VibrationMode, sampleRate: number): Recurrence {
  const step = (2 * Math.PI * frequency) / sampleRate;
  const ratio = 10 ** (-fall / 20 / sampleRate);
  return [
    2 * ratio * Math.cos(step),
    -ratio * ratio,
    (amplitude * Math.cos(phase - step)) / ratio,
    (amplitude * Math.cos(phase - 2 * step)) / (ratio * ratio),
  ];
}

/** Adds four modes over a stretch of samples, falling by `slope` a sample from 1 on; `last` holds their last two values. */
function addStretch(
  buffer: Float32Array,
  [from, to, slope]: readonly [number, number, number],
  four: Four,
  last: Float64Array,
): void {
  const [[a1, b1], [a2, b2], [a3, b3], [a4, b4]] = four;
  let [p1, q1, p2, q2] = [last[0]!, last[1]!, last[2]!, last[3]!];
  let [p3, q3, p4, q4] = [last[4]!, last[5]!, last[6]!, last[7]!];
  let left = 1;
  for (let i = from; i < to; i++) {
    const y1 = a1 * p1 + b1 * q1;
    const y2 = a2 * p2 + b2 * q2;
    const y3 = a3 * p3 + b3 * q3;
    const y4 = a4 * p4 + b4 * q4;
    q1 = p1;
    p1 = y1;
    q2 = p2;
    p2 = y2;
    q3 = p3;
    p3 = y3;
    q4 = p4;
    p4 = y4;
    buffer[i]! += left * (y1 + y2 + y3 + y4);
    left -= slope;
  }
  last.set([p1, q1, p2, q2, p3, q3, p4, q4]);
}

/** Adds four modes: whole for so many samples, then fading over so many more, so that none ends with a tick. */
function addFour(buffer: Float32Array, count: number, fading: number, some: readonly Recurrence[]): void {
  const modes: Four = [some[0] ?? nothing, some[1] ?? nothing, some[2] ?? nothing, some[3] ?? nothing];
  const last = Float64Array.from(modes.flatMap(([, , now, before]) => [now, before]));
  addStretch(buffer, [0, count, 0], modes, last);
  addStretch(buffer, [count, Math.min(buffer.length, count + fading), 1 / fading], modes, last);
}

/**
 * Adds modes to what is in the buffer.
 * @param floor dB under the loudest mode at which one is over, negative
 */
export function addModes(
  buffer: Float32Array,
  modes: readonly VibrationMode[],
  sampleRate: number,
  floor: number,
): void {
  const top = modes.reduce((most, { amplitude }) => Math.max(most, Math.abs(amplitude)), 1e-30);
  const fading = Math.round(fadeSeconds * sampleRate);
  const lasting = modes
    .map((mode) => {
      const room = 20 * Math.log10(Math.abs(mode.amplitude) / top + 1e-12) - floor;
      return { mode, count: Math.min(buffer.length, Math.ceil((room / mode.fall) * sampleRate)) };
    })
    .filter(({ count }) => count > 0)
    .sort((a, b) => a.count - b.count);
  for (let i = 0; i < lasting.length; i += 4) {
    const four = lasting.slice(i, i + 4);
    addFour(
      buffer,
      four.at(-1)!.count,
      fading,
      four.map(({ mode }) => recurrence(mode, sampleRate)),
    );
  }
}

/**
 * Mean power over the first seconds of modes that lie close together, their beats included:
 * the mean of a b exp(-(r + s) t) cos(d t + e) / 2 over all pairs, d and e the differences of frequency and phase.
 */
export function meanPower(modes: readonly VibrationMode[], seconds: number): number {
  let sum = 0;
  for (const one of modes)
    for (const other of modes) {
      const fall = ((one.fall + other.fall) * Math.LN10) / 20;
      const turn = 2 * Math.PI * (one.frequency - other.frequency);
      const start = one.phase - other.phase;
      const left = Math.exp(-fall * seconds);
      const end = start + turn * seconds;
      // The integral of exp(-fall t) cos(turn t + start) from 0 to seconds.
      const whole =
        (fall * Math.cos(start) -
          turn * Math.sin(start) -
          left * (fall * Math.cos(end) - turn * Math.sin(end))) /
        (fall * fall + turn * turn);
      sum += (one.amplitude * other.amplitude * whole) / 2;
    }
  return sum / seconds;
}
