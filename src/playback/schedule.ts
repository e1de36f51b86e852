// Timeline and line to timed events: everything that will sound, in ticks, worked out before any of it is played.
import patternData from '../../shared/rhythm/patterns.json' with { type: 'json' };
import {
  derivedSeed,
  seededRandom,
  straightRatio,
  swingAt,
  swingOver,
  ticks,
  ticksPerQuarter,
  togetherSeconds,
  type Bpm,
  type Random,
  type SoundingMidi,
  type SwingRatios,
  type Ticks,
} from '../music';
import type { LineNote } from '../pipeline/5-line';
import { soundOf, type Timeline, type TimelineBar } from '../pipeline/2-timeline';
import { compBar, type ChordHit } from './comping';
import { countInHits, drumHits, type DrumHit } from './drums';
import type {
  BarRange,
  BassEvent,
  ChordEvent,
  DrumEvent,
  Loop,
  Music,
  NoteSpan,
  PlaybackEvent,
  PlaybackSettings,
  Schedule,
} from './types';

/** The settings that change what is played, as against how loud. */
export type ScheduleSettings = Pick<PlaybackSettings, 'tempo' | 'swing' | 'countInBars' | 'loop' | 'seed'>;

const { velocityShare, offBeatTicks } = patternData.variation;
/** A stopped note ends a little early, as the finger leaves; never by more than an eighth of a beat. */
const stoppedShare = 0.95;
const longestGap = ticksPerQuarter / 8;
/** By strength of the slot, 0 off the beat to 3 downbeat (common practice, no source: walking quarters are nearly even). */
const bassVelocities = [0.6, 0.76, 0.78, 0.82] as const;

/** The swing in force: as asked, as bands play it at this tempo, or none where the feel has straight eighths. */
function ratiosFor({ feel }: Timeline, swing: PlaybackSettings['swing'], tempo: Bpm): SwingRatios {
  if (feel === 'bossa' || feel === 'straight') return { bass: straightRatio, cymbal: straightRatio };
  return swing === 'by tempo' ? swingAt(tempo) : { bass: swing, cymbal: swing };
}

/** The bars that go round, kept inside the timeline; the whole form when the range has nothing of it. */
export function fitLoop(loop: Loop, bars: number): BarRange {
  const whole = { from: 0, to: Math.max(0, bars - 1) };
  if (typeof loop === 'string') return whole;
  const from = Math.max(0, Math.floor(loop.from));
  const to = Math.min(whole.to, Math.floor(loop.to));
  return from <= to ? { from, to } : whole;
}

/** A velocity a little to either side, within 0..1. */
const varied = (velocity: number, random: Random): number =>
  Math.min(1, Math.max(0.05, velocity * (1 + velocityShare * (2 * random() - 1))));

const clamp = (value: number, least: number, most: number): number => Math.min(most, Math.max(least, value));

function bassEvent(note: LineNote, start: Ticks, end: Ticks, random: Random): BassEvent {
  const isOpen = note.placement.finger === '0';
  const sound = soundOf(note.slot);
  const length = Math.round((end - start) * sound.length);
  const gap = isOpen ? 0 : Math.min(longestGap, Math.round(length * (1 - stoppedShare)));
  const velocity = varied(bassVelocities[sound.strength] * sound.loudness, random);
  const damp = ticks(start + Math.max(1, length - gap));
  return { part: 'bass', tick: start, velocity, midi: note.midi, damp, isOpen, note: note.index };
}

/** Where the line's notes sound once swung: each ends where it would or where the next begins, within the form. */
export function noteSpans(
  notes: readonly LineNote[],
  swung: (tick: Ticks) => Ticks,
  formEnd: Ticks,
): readonly NoteSpan[] {
  const sounding = notes.filter((note) => note.tick >= 0 && note.tick < formEnd);
  return sounding.map((note, i) => {
    const start = swung(note.tick);
    const next = sounding[i + 1];
    const latest = next ? swung(next.tick) : formEnd;
    const end = ticks(
      Math.max(start + 1, Math.min(swung((note.tick + note.ticks) as Ticks), latest, formEnd)),
    );
    return { start, end, note: note.index };
  });
}

function bassEvents(
  notes: readonly LineNote[],
  spans: readonly NoteSpan[],
  seed: number,
): readonly BassEvent[] {
  const byIndex = new Map(notes.map((note) => [note.index, note]));
  return spans.map(({ start, end, note }) =>
    bassEvent(byIndex.get(note)!, start, end, seededRandom(derivedSeed(seed, note))),
  );
}

interface DrumSwing {
  readonly swung: (tick: Ticks) => Ticks;
  /** The swung onset of the bass by the straight tick it is written at. */
  readonly bassOnsets: ReadonlyMap<number, number>;
  /** Furthest a cymbal may be from a bass note meant as one with it, in ticks. */
  readonly together: number;
}

function drumEvent(bar: TimelineBar, hit: DrumHit, swing: DrumSwing, random: Random): DrumEvent {
  const straight = ticks(bar.tick + hit.offset);
  const onBeat = swing.swung(straight);
  const isOffBeat = hit.offset % ticksPerQuarter !== 0 && hit.part !== 'click';
  const late = isOffBeat ? Math.round(offBeatTicks * (2 * random() - 1)) : 0;
  const bass = swing.bassOnsets.get(straight);
  const wished = onBeat + late;
  const near = bass === undefined ? wished : clamp(wished, bass - swing.together, bass + swing.together);
  const tick = ticks(clamp(near, bar.tick, bar.tick + bar.ticks - 1));
  return { part: hit.part, sound: hit.sound, tick, velocity: varied(hit.velocity, random) };
}

const chordEvent = (hit: ChordHit, swung: (tick: Ticks) => Ticks, random: Random): ChordEvent => {
  const tick = swung(ticks(hit.tick));
  const damp = ticks(Math.max(tick + 1, swung(ticks(hit.tick + hit.ticks))));
  return { part: 'chords', tick, damp, midis: hit.midis, velocity: varied(hit.velocity, random) };
};

/** Chords and drums of every bar; each bar has a seed of its own, so that a change in one leaves the others alone. */
function bandEvents(
  timeline: Timeline,
  swing: DrumSwing,
  chordSwing: (tick: Ticks) => Ticks,
  seed: number,
): readonly PlaybackEvent[] {
  const events: PlaybackEvent[] = [];
  let lastVoicing: readonly SoundingMidi[] = [];
  for (const bar of timeline.bars) {
    const random = seededRandom(derivedSeed(seed ^ 0x5f3759df, bar.index));
    for (const hit of drumHits(bar, timeline.feel)) events.push(drumEvent(bar, hit, swing, random));
    const { hits, last } = compBar(bar.chords, timeline.feel, lastVoicing, random);
    lastVoicing = last;
    for (const hit of hits) events.push(chordEvent(hit, chordSwing, random));
  }
  return events;
}

/** The count before the music starts with a bar. */
function countIn(bar: TimelineBar | undefined, bars: 0 | 1 | 2): Schedule['countIn'] {
  if (!bar) return { ticks: ticks(0), events: [] };
  const count = countInHits(bar, bars);
  const events = count.hits.map(({ part, sound, offset, velocity }) => ({
    part,
    sound,
    tick: ticks(offset),
    velocity,
  }));
  return { ticks: ticks(count.ticks), events };
}

/**
 * Everything that sounds. All parts are there whatever the mix says, so that a mute can open in mid-bar.
 * @param music the timeline and its line; notes outside the form are left out
 * @param settings tempo and swing decide where off-beats fall; the loop, where it goes round
 * @param fromBar bar to start with, when it lies in the loop; else the loop's first
 */
export function makeSchedule(
  { timeline, notes }: Music,
  settings: ScheduleSettings,
  fromBar?: number,
): Schedule {
  const { bars } = timeline;
  const ratios = ratiosFor(timeline, settings.swing, settings.tempo);
  const bassSwing = swingOver(bars, ratios.bass);
  const spans = noteSpans(notes, bassSwing, timeline.ticks);
  const startByNote = new Map(spans.map((span) => [span.note, span.start]));
  const bassOnsets = new Map<number, number>();
  for (const note of notes) {
    const start = startByNote.get(note.index);
    if (start !== undefined) bassOnsets.set(note.tick, start);
  }
  // A tick short of the limit, so that rounding to ticks cannot pass it.
  const together = Math.floor((togetherSeconds * settings.tempo * ticksPerQuarter) / 60) - 1;
  const drumSwing = { swung: swingOver(bars, ratios.cymbal), bassOnsets, together };
  const events = [
    ...bassEvents(notes, spans, settings.seed),
    ...bandEvents(timeline, drumSwing, bassSwing, settings.seed),
  ].sort((a, b) => a.tick - b.tick);

  const loop = fitLoop(settings.loop, bars.length);
  const isInLoop = fromBar !== undefined && fromBar >= loop.from && fromBar <= loop.to;
  const startBar = bars[isInLoop ? fromBar : loop.from];
  const lastBar = bars[loop.to];
  return {
    countIn: countIn(startBar, settings.countInBars),
    events,
    notes: spans,
    bars: bars.map((bar) => ({ start: bar.tick, end: ticks(bar.tick + bar.ticks), chorus: bar.chorus })),
    start: startBar?.tick ?? ticks(0),
    end: lastBar ? ticks(lastBar.tick + lastBar.ticks) : ticks(0),
    loopStart: bars[loop.from]?.tick ?? ticks(0),
    goesRound: settings.loop !== 'none',
  };
}
