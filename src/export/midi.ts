// A line as a Standard MIDI File: sounding pitch, the playing program's ticks and its swing.
import { swingOver, ticks, ticksPerQuarter, type Bpm, type Meter } from '../music';
import type { Line } from '../pipeline/5-line';
import { soundOf, type Timeline } from '../pipeline/2-timeline';
import { opensPart, printedChords, timedNotes } from './line-bars';
import { midiFile, midiMeta, noteOff, noteOn, programChange, type TimedBytes } from './midi-bytes';
import { usualSwing, type SwingRatio } from './swing-mark';

export interface MidiOptions {
  /** The timeline's own title when left out. */
  readonly title?: string;
  /** Length of the first eighth over the second, the same as in playback, 1 for straight; by feel and tempo when left out. */
  readonly swing?: SwingRatio;
}

const bassChannel = 0;
/** General MIDI acoustic bass, counted from 0. */
const acousticBass = 32;
const velocity = 90;
const accentVelocity = 100;

const microsecondsOf = (tempo: Bpm): number => Math.round(60_000_000 / tempo);

/** Clocks in one click: 24 to a quarter, 36 to a dotted quarter. */
function clickClocks({ beats, unit }: Meter): number {
  if (unit === 8) return beats % 3 === 0 ? 36 : 12;
  return unit === 2 ? 48 : 24;
}

/** Tempo, meters, keys, markers for sections, and chord symbols as texts. */
function conductorTrack(timeline: Timeline, title: string): TimedBytes[] {
  const events: TimedBytes[] = [
    { tick: 0, bytes: midiMeta.trackName(title) },
    { tick: 0, bytes: midiMeta.tempo(microsecondsOf(timeline.tempo)) },
  ];
  const { bars } = timeline;
  for (const [index, { tick, meter, key, section }] of bars.entries()) {
    const before = bars[index - 1];
    if (before?.meter.beats !== meter.beats || before.meter.unit !== meter.unit) {
      events.push({ tick, bytes: midiMeta.timeSignature(meter.beats, meter.unit, clickClocks(meter)) });
    }
    if (before?.key.fifths !== key.fifths || before.key.mode !== key.mode) {
      events.push({ tick, bytes: midiMeta.keySignature(key.fifths, key.mode === 'minor') });
    }
    if (section !== null && opensPart(bars, index)) events.push({ tick, bytes: midiMeta.marker(section) });
    for (const chord of printedChords(bars, index)) {
      events.push({ tick: chord.tick, bytes: midiMeta.text(chord.chord?.symbol ?? 'N.C.') });
    }
  }
  return events;
}

function bassTrack(timeline: Timeline, line: Line, swing: SwingRatio): TimedBytes[] {
  const swung = swingOver(timeline.bars, swing);
  const notes = timedNotes(timeline, line);
  const starts = notes.map(({ start }) => swung(ticks(start)));
  const events: TimedBytes[] = [
    { tick: 0, bytes: midiMeta.trackName('Bass') },
    { tick: 0, bytes: programChange(bassChannel, acousticBass) },
  ];
  for (const [index, { note, end }] of notes.entries()) {
    const start = starts[index]!;
    // Pushed before the next note begins, so at equal ticks the end comes first.
    const limit = starts[index + 1] ?? timeline.ticks;
    const sound = soundOf(note.slot);
    const whole = Math.min(swung(ticks(end)), limit) - start;
    const stop = start + Math.max(1, Math.round(whole * sound.length));
    const loudness = Math.round((sound.strength >= 2 ? accentVelocity : velocity) * sound.loudness);
    events.push({ tick: start, bytes: noteOn(bassChannel, note.midi, loudness) });
    events.push({ tick: stop, bytes: noteOff(bassChannel, note.midi) });
  }
  return events;
}

/**
 * The line as a format 1 file of 480 ticks a quarter: a track for tempo, meters, keys, markers of
 * sections and texts of chords, and one for the bass.
 * Onsets and ends are swung by the same function as in playback; both tracks end where the form ends.
 * Source: Standard MIDI Files 1.0.
 */
export function toMidi(timeline: Timeline, line: Line, options: MidiOptions = {}): Uint8Array {
  const tracks = [
    conductorTrack(timeline, options.title ?? timeline.title),
    bassTrack(timeline, line, options.swing ?? usualSwing(timeline.feel, timeline.tempo)),
  ];
  return midiFile(ticksPerQuarter, tracks, timeline.ticks);
}
