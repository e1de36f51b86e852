// Standard MIDI File 1.0 as bytes, in one pass: the cost grows with the number of events and nothing else.

/** An event at an absolute time; its bytes without the delta time. */
export interface TimedBytes {
  readonly tick: number;
  readonly bytes: readonly number[];
}

/** Big-endian bytes of a whole number. */
const bigEndian = (value: number, length: number): number[] =>
  Array.from({ length }, (_, index) => (value >>> (8 * (length - 1 - index))) & 0xff);

/** Seven bits a byte, the highest first, all but the last marked. */
function variableLength(value: number): number[] {
  const bytes = [value & 0x7f];
  for (let rest = value >>> 7; rest > 0; rest >>>= 7) bytes.unshift((rest & 0x7f) | 0x80);
  return bytes;
}

const meta = (type: number, data: readonly number[]): number[] => [
  0xff,
  type,
  ...variableLength(data.length),
  ...data,
];

/** Text in UTF-8; an unpaired surrogate becomes the replacement character. */
const utf8 = (text: string): number[] => Array.from(new TextEncoder().encode(text));

export const midiMeta = {
  trackName: (name: string): number[] => meta(0x03, utf8(name)),
  /** Words at their place, of any kind. */
  text: (text: string): number[] => meta(0x01, utf8(text)),
  marker: (text: string): number[] => meta(0x06, utf8(text)),
  /** @param microseconds of a quarter note, at most 24 bits */
  tempo: (microseconds: number): number[] => meta(0x51, bigEndian(microseconds, 3)),
  /** @param clocks MIDI clocks (24 to a quarter) in one click of the metronome */
  timeSignature: (beats: number, unit: 2 | 4 | 8, clocks: number): number[] =>
    meta(0x58, [beats, Math.log2(unit), clocks, 8]),
  /** @param fifths sharps positive, flats negative */
  keySignature: (fifths: number, isMinor: boolean): number[] => meta(0x59, [fifths & 0xff, isMinor ? 1 : 0]),
} as const;

export const programChange = (channel: number, program: number): number[] => [0xc0 | channel, program];
export const noteOn = (channel: number, pitch: number, velocity: number): number[] => [
  0x90 | channel,
  pitch,
  velocity,
];
export const noteOff = (channel: number, pitch: number): number[] => [0x80 | channel, pitch, 0];

function chunk(name: string, data: readonly number[]): number[][] {
  return [utf8(name), bigEndian(data.length, 4), data as number[]];
}

function trackData(events: readonly TimedBytes[], endTick: number): number[] {
  const data: number[] = [];
  let before = 0;
  const push = (tick: number, bytes: readonly number[]): void => {
    data.push(...variableLength(tick - before), ...bytes);
    before = tick;
  };
  for (const { tick, bytes } of events) push(tick, bytes);
  push(endTick, meta(0x2f, []));
  return data;
}

/**
 * A format 1 file.
 * @param tracks events of each in order of time
 * @param endTick where every track ends, not before its last event
 */
export function midiFile(
  ticksPerQuarter: number,
  tracks: readonly (readonly TimedBytes[])[],
  endTick: number,
): Uint8Array {
  const header = [...bigEndian(1, 2), ...bigEndian(tracks.length, 2), ...bigEndian(ticksPerQuarter, 2)];
  const chunks = [
    ...chunk('MThd', header),
    ...tracks.flatMap((events) => chunk('MTrk', trackData(events, endTick))),
  ];
  return Uint8Array.from(chunks.flat());
}
