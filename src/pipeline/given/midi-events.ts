// The events of a Standard MIDI File that a line is made of, read from bytes that may be anything.
//
// Source: the Standard MIDI Files 1.0 specification (chunks, variable-length quantities, running status, meta events).

import { decodeText } from '../1-chart';

/** Why a file is not read: a code of shared/words/midi-problems.json with its place. */
export interface MidiFault {
  readonly code:
    'midi-none' | 'midi-header' | 'midi-format' | 'midi-frames' | 'midi-large' | 'midi-broken' | 'midi-cut';
  /** From 0. */
  readonly byte: number;
  /** From 1; 0 in the header. */
  readonly track: number;
}

/** Something that happens at a tick of the file's own clock. */
export type MidiEvent = { readonly tick: number } & (
  | { readonly kind: 'on' | 'off'; readonly channel: number; readonly note: number }
  | { readonly kind: 'program'; readonly channel: number; readonly program: number }
  | { readonly kind: 'name'; readonly text: string }
  | { readonly kind: 'tempo'; readonly microseconds: number }
  | { readonly kind: 'meter'; readonly beats: number; readonly unit: number }
  | { readonly kind: 'key'; readonly fifths: number; readonly isMinor: boolean }
  | { readonly kind: 'end' }
);

export interface MidiFile {
  readonly ticksPerQuarter: number;
  readonly tracks: readonly (readonly MidiEvent[])[];
}

const mostEvents = 200_000;
const mostTracks = 256;
const longestText = 100;

class Broken extends Error {
  constructor(readonly fault: MidiFault) {
    super(fault.code);
  }
}

/** Reads bytes up to an end, counting tracks for messages. */
class ByteReader {
  at = 0;
  end: number;
  track = 0;

  constructor(private readonly bytes: Uint8Array) {
    this.end = bytes.length;
  }

  fail(code: MidiFault['code']): never {
    throw new Broken({ code, byte: this.at, track: this.track });
  }
  byte(): number {
    if (this.at >= this.end) this.fail(this.end >= this.bytes.length ? 'midi-cut' : 'midi-broken');
    this.at += 1;
    return this.bytes[this.at - 1]!;
  }
  /** A byte of data, which has its top bit clear. */
  data(): number {
    const value = this.byte();
    if (value > 127) {
      this.at -= 1;
      this.fail('midi-broken');
    }
    return value;
  }
  number(bytes: number): number {
    let value = 0;
    for (let index = 0; index < bytes; index += 1) value = value * 256 + this.byte();
    return value;
  }
  /** A variable-length quantity, of at most four bytes. */
  quantity(): number {
    let value = 0;
    for (let index = 0; index < 4; index += 1) {
      const byte = this.byte();
      value = value * 128 + (byte & 127);
      if (byte < 128) return value;
    }
    return this.fail('midi-broken');
  }
  take(length: number): Uint8Array {
    if (length > this.end - this.at) {
      this.at = this.end;
      this.fail(this.end >= this.bytes.length ? 'midi-cut' : 'midi-broken');
    }
    this.at += length;
    return this.bytes.subarray(this.at - length, this.at);
  }
  word(): string {
    return String.fromCharCode(...this.take(4));
  }
}

/** Bytes of data after each status from 0x80 up, by its upper half. */
const dataBytes: Readonly<Record<number, number>> = { 8: 2, 9: 2, 10: 2, 11: 2, 12: 1, 13: 1, 14: 2 };

function metaEvent(tick: number, type: number, data: Uint8Array): MidiEvent | null {
  const [a = 0, b = 0, c = 0] = data;
  if (type === 0x2f) return { tick, kind: 'end' };
  if (type === 0x03) {
    return {
      tick,
      kind: 'name',
      text: decodeText(data.subarray(0, 4 * longestText))
        .slice(0, longestText)
        .trim(),
    };
  }
  if (type === 0x51 && data.length === 3)
    return { tick, kind: 'tempo', microseconds: a * 65536 + b * 256 + c };
  if (type === 0x58 && data.length >= 2 && b <= 6) return { tick, kind: 'meter', beats: a, unit: 2 ** b };
  if (type === 0x59 && data.length >= 2) {
    return { tick, kind: 'key', fifths: a > 127 ? a - 256 : a, isMinor: b === 1 };
  }
  return null;
}

function readTrack(reader: ByteReader, room: { left: number }): MidiEvent[] {
  const events: MidiEvent[] = [];
  let tick = 0;
  let running = 0;
  while (reader.at < reader.end) {
    if ((room.left -= 1) < 0) reader.fail('midi-large');
    tick += reader.quantity();
    let status = reader.byte();
    if (status < 0x80) {
      if (running === 0) {
        reader.at -= 1;
        reader.fail('midi-broken');
      }
      reader.at -= 1;
      status = running;
    }
    if (status === 0xff) {
      const type = reader.data();
      const event = metaEvent(tick, type, reader.take(reader.quantity()));
      if (event) events.push(event);
      if (event?.kind === 'end') break;
    } else if (status === 0xf0 || status === 0xf7) reader.take(reader.quantity());
    else if (status > 0xf0) reader.fail('midi-broken');
    else {
      running = status;
      const first = reader.data();
      const second = dataBytes[status >> 4] === 2 ? reader.data() : 0;
      const channel = status & 15;
      // A note struck with no force at all is a note that ends.
      if (status >> 4 === 9) events.push({ tick, kind: second > 0 ? 'on' : 'off', channel, note: first });
      else if (status >> 4 === 8) events.push({ tick, kind: 'off', channel, note: first });
      else if (status >> 4 === 12) events.push({ tick, kind: 'program', channel, program: first });
    }
    if (status === 0xf0 || status === 0xf7) running = 0;
  }
  if (events.at(-1)?.kind !== 'end') events.push({ tick, kind: 'end' });
  return events;
}

function readAll(bytes: Uint8Array): MidiFile {
  const reader = new ByteReader(bytes);
  if (bytes.length < 4 || reader.word() !== 'MThd') reader.fail('midi-none');
  const length = reader.number(4);
  if (length < 6) reader.fail('midi-header');
  const format = reader.number(2);
  const count = reader.number(2);
  const division = reader.number(2);
  if (format === 2) reader.fail('midi-format');
  if (division >= 0x8000) reader.fail('midi-frames');
  if (format > 2 || division === 0 || count === 0 || count > mostTracks) reader.fail('midi-header');
  reader.take(length - 6);
  const tracks: MidiEvent[][] = [];
  const room = { left: mostEvents };
  while (tracks.length < count) {
    reader.track = tracks.length + 1;
    const name = reader.word();
    const size = reader.number(4);
    // Chunks of other kinds are passed over, as the specification asks.
    if (name !== 'MTrk') {
      reader.take(size);
      continue;
    }
    if (size > bytes.length - reader.at) {
      reader.at = bytes.length;
      reader.fail('midi-cut');
    }
    const end = reader.at + size;
    reader.end = end;
    tracks.push(readTrack(reader, room));
    reader.at = end;
    reader.end = bytes.length;
  }
  return { ticksPerQuarter: division, tracks };
}

/** True when the bytes begin as a Standard MIDI File does. */
export const isMidi = (bytes: Uint8Array): boolean =>
  bytes[0] === 0x4d && bytes[1] === 0x54 && bytes[2] === 0x68 && bytes[3] === 0x64;

/** The events of a file, or what is wrong with it. Never throws; linear in the length. */
export function readMidiEvents(bytes: Uint8Array): MidiFile | { readonly fault: MidiFault } {
  try {
    return readAll(bytes);
  } catch (error) {
    if (error instanceof Broken) return { fault: error.fault };
    throw error;
  }
}
