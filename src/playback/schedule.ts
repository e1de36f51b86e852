// Timeline and line to timed events: everything that will sound, in ticks, worked out before any of it is played.
import {
  derivedSeed,
  seededRandom,
  swingOver,
  ticks,
  ticksPerQuarter,
  togetherSeconds,
  barIndex,
  type BarIndex,
  type Random,
  type Ticks,
} from '../music';
import type { TimelineBar } from '../pipeline/2-timeline';
import { bassEvents, noteSpans, withinLoop } from './bass';
import { barHits, type DrumHit } from './band/hits';
import { bandPlan } from './band/plan';
import { compHits, type ChordHit, type CompWish } from './comping';
import { clickHits, countInHits } from './drums';
import type {
  Amount,
  BarRange,
  ClickPlace,
  ChordEvent,
  DrumEvent,
  Loop,
  Music,
  Part,
  PlaybackEvent,
  PlaybackSettings,
  Schedule,
} from './types';
import { leanOf } from './lean';
import { ratiosFor } from './ratios';
import { firstAtOrAfter } from './lookup';
import { exact, shifted, varied, type Vary } from './vary';

/** The settings that change what is played, as against how loud. */
export type ScheduleSettings = Pick<
  PlaybackSettings,
  'tempo' | 'swing' | 'countInBars' | 'loop' | 'seed' | 'isLoose' | 'leans' | 'click' | 'amount' | 'yourTurn'
>;

/** The bars that go round, kept inside the timeline; the whole form when the range has nothing of it. */
export function fitLoop(loop: Loop, bars: number): BarRange {
  const whole = { from: barIndex(0), to: barIndex(Math.max(0, bars - 1)) };
  if (typeof loop === 'string') return whole;
  const from = Math.max(0, Math.floor(loop.from));
  const to = Math.min(whole.to, Math.floor(loop.to));
  return from <= to ? { from: barIndex(from), to: barIndex(to) } : whole;
}

const clamp = (value: number, least: number, most: number): number => Math.min(most, Math.max(least, value));

/** What a band does to what is written. */
interface Playing {
  readonly seed: number;
  readonly isLoose: boolean;
  readonly vary: Vary;
  readonly click: ClickPlace;
  readonly amount: Amount;
  /** Ticks by which a part is later than the beat; negative ahead. */
  readonly lean: (part: Part, tick: number) => number;
}

interface DrumSwing {
  readonly swung: (tick: Ticks) => Ticks;
  /** The swung onset of the bass by the straight tick it is written at. */
  readonly bassOnsets: ReadonlyMap<number, number>;
  /** Furthest a cymbal may be from a bass note meant as one with it, in ticks. */
  readonly together: number;
}

function drumEvent(
  bar: TimelineBar,
  hit: DrumHit,
  swing: DrumSwing,
  { vary, isLoose, lean }: Playing,
  random: Random,
): DrumEvent {
  const straight = ticks(bar.tick + hit.offset);
  const onBeat = swing.swung(straight);
  const isOffBeat = hit.offset % ticksPerQuarter !== 0 && hit.part !== 'click';
  const late = isOffBeat && isLoose ? shifted(random) : 0;
  const bass = swing.bassOnsets.get(straight);
  const wished = onBeat + late + lean(hit.part, straight);
  const isOne = bass !== undefined && hit.part !== 'hi-hat';
  const near = isOne ? clamp(wished, bass - swing.together, bass + swing.together) : wished;
  const end = bar.tick + bar.ticks;
  const tick = ticks(clamp(near, bar.tick, end - 1));
  const plain = { part: hit.part, sound: hit.sound, tick, velocity: vary(hit.velocity, random) };
  return hit.dampAt === undefined
    ? plain
    : { ...plain, damp: ticks(clamp(bar.tick + hit.dampAt, tick + 1, end)) };
}

/** A brush that goes round is one sound after another: each ends where the next begins. */
function stirred(events: readonly PlaybackEvent[]): readonly PlaybackEvent[] {
  const isStir = (event: PlaybackEvent): event is DrumEvent =>
    event.part === 'drums' && event.sound === 'brush stir';
  const stirs = events.filter(isStir);
  const nextOf = new Map(stirs.map((event, i) => [event, stirs[i + 1]?.tick]));
  return events.map((event) => {
    const next = isStir(event) ? nextOf.get(event) : undefined;
    return isStir(event) && next !== undefined && next > event.tick ? { ...event, damp: next } : event;
  });
}

const chordEvent = (
  hit: ChordHit,
  swung: (tick: Ticks) => Ticks,
  { vary, lean }: Playing,
  random: Random,
): ChordEvent => {
  const onBeat = swung(ticks(hit.tick));
  // Behind the beat, but never past the end of its own time.
  const tick = ticks(clamp(onBeat + lean('chords', hit.tick), onBeat, onBeat + hit.ticks / 2 - 1));
  const damp = ticks(Math.max(tick + 1, swung(ticks(hit.tick + hit.ticks))));
  return { part: 'chords', tick, damp, midis: hit.midis, velocity: vary(hit.velocity, random) };
};

/** Where the line goes, for the chords to keep off it. */
function topOfBass(notes: Music['notes']): (from: number, to: number) => number {
  const ordered = [...notes].sort((a, b) => a.tick - b.tick);
  return (from, to) => {
    let top = -Infinity;
    // Of what began before, only the last note can still sound.
    for (let i = Math.max(0, firstAtOrAfter(ordered, from) - 1); i < ordered.length; i++) {
      const { tick, ticks: length, midi } = ordered[i]!;
      if (tick >= to) break;
      if (tick + length > from) top = Math.max(top, midi);
    }
    return top;
  };
}

/** Chords and drums of every bar; each bar has a seed of its own, so that a change in one leaves the others alone. */
function bandEvents(
  { timeline, notes }: Music,
  swing: DrumSwing,
  chordSwing: (tick: Ticks) => Ticks,
  playing: Playing,
  round: Pick<CompWish, 'from' | 'to' | 'goesRound'>,
): readonly PlaybackEvent[] {
  const { bars } = timeline;
  const plan = bandPlan(timeline, playing);
  const chords = compHits(bars, plan, { ...round, topOfBass: topOfBass(notes) });
  return bars.flatMap((bar, i): readonly PlaybackEvent[] => {
    const random = seededRandom(derivedSeed(playing.seed ^ 0x5f3759df, bar.index));
    const { lift } = plan[i]!;
    const louder = <Hit extends { readonly velocity: number }>(hit: Hit): Hit => ({
      ...hit,
      velocity: hit.velocity * lift,
    });
    return [
      ...barHits(bar, plan[i]!).map((hit) => drumEvent(bar, louder(hit), swing, playing, random)),
      ...clickHits(bar, playing.click).map((hit) => drumEvent(bar, hit, swing, playing, random)),
      ...chords[i]!.map((hit) => chordEvent(louder(hit), chordSwing, playing, random)),
    ];
  });
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
  fromBar?: BarIndex,
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
  const vary = settings.isLoose ? varied : exact;
  const { seed, isLoose, click, amount, yourTurn, leans, tempo } = settings;
  const lean = (part: Part, tick: number): number => (leans ? leanOf(part, tick, seed, tempo) : 0);

  const loop = fitLoop(settings.loop, bars.length);
  const isInLoop = fromBar !== undefined && fromBar >= loop.from && fromBar <= loop.to;
  const startBar = bars[isInLoop ? fromBar : loop.from];
  const lastBar = bars[loop.to];
  const end = lastBar ? ticks(lastBar.tick + lastBar.ticks) : ticks(0);
  const goesRound = settings.loop !== 'none';
  const wholeBass = { events: bassEvents(notes, spans, seed, vary), spans };
  const bass = goesRound ? withinLoop(wholeBass, notes, end) : wholeBass;
  const playing = { seed, isLoose, vary, click, amount, lean };
  const band = bandEvents({ timeline, notes }, drumSwing, bassSwing, playing, { ...loop, goesRound });
  const events = stirred([...bass.events, ...band].sort((a, b) => a.tick - b.tick));
  const isWhole = loop.from === 0 && loop.to === bars.length - 1;
  return {
    countIn: countIn(startBar, settings.countInBars),
    events,
    notes: bass.spans,
    bars: bars.map((bar) => ({ start: bar.tick, end: ticks(bar.tick + bar.ticks), chorus: bar.chorus })),
    start: startBar?.tick ?? ticks(0),
    end,
    loopStart: bars[loop.from]?.tick ?? ticks(0),
    goesRound: goesRound && !(typeof settings.loop === 'object' && 'isOnce' in settings.loop),
    roundsPerPass: isWhole ? timeline.choruses : 1,
    yourTurn,
  };
}
