// Hand-made answers of the computation for tests of the state: small, and of the right shape.
import { defaultInstrument, type HandPosition, type StringNumber } from '../../src/instrument';
import {
  milli,
  millimetres,
  noteName,
  seconds,
  semitones,
  soundingMidi,
  ticks,
  barIndex,
  barIndices,
  numberOfBar,
  type Bpm,
} from '../../src/music';
import type {
  Impossible,
  Line,
  LineNote,
  Slot,
  Timeline,
  TimelineChord,
  WalkRequest,
  WalkResult,
} from '../../src/pipeline';
import type { Connect } from '../../src/state/asking';
import type { Answered, Ask, OnProgress } from '../../src/worker';
import { emptyReport } from '../pipeline/empty-report';
import { plainLabels } from '../pipeline/plain-labels';

const key = { tonic: noteName('F'), mode: 'major', fifths: -1 } as const;
const meter = { beats: 4, unit: 4 } as const;
const harmony: TimelineChord = {
  chord: null,
  scale: null,
  key,
  tick: ticks(0),
  ticks: ticks(1920),
  beat: 1,
  isChange: true,
};

/** A timeline of so many bars in 4/4, four slots a bar, each bar written once. */
export function makeTimeline(bars: number, tempo = 132): Timeline {
  const slots: Slot[] = Array.from({ length: bars * 4 }, (_, index) => ({
    index,
    bar: barIndex(Math.floor(index / 4)),
    beat: (index % 4) + 1,
    tick: ticks(index * 480),
    ticks: ticks(480),
    harmony,
    nextHarmony: harmony,
    isChange: index % 4 === 0,
    nextIsChange: index % 4 === 3,
    nextIsDownbeat: index % 4 === 3,
    strength: index % 4 === 0 ? 3 : 1,
    isTarget: index % 4 === 0,
    sinceTarget: 0,
    untilTarget: 4 - (index % 4),
    target: harmony,
    phrase: 'inside',
    restAfter: ticks(0),
  }));
  return {
    title: 'Fixture',
    key,
    tempo: tempo as Bpm,
    feel: 'swing',
    choruses: 1,
    slots,
    ticks: ticks(bars * 1920),
    bars: barIndices(bars).map((index) => ({
      index,
      chartBar: index,
      chorus: 0,
      section: null,
      meter,
      key,
      tick: ticks(index * 1920),
      ticks: ticks(1920),
      chords: [harmony],
    })),
  };
}

/** A line of F2 on the D string over every slot; `carryAt` names a note that carries the hand. */
export function makeLine(timeline: Timeline, carryAt: number | null = null): Line {
  const position = 3 as HandPosition;
  const notes: LineNote[] = timeline.slots.map((slot) => ({
    index: slot.index,
    slot,
    bar: numberOfBar(slot.bar),
    beat: slot.beat,
    tick: slot.tick,
    ticks: slot.ticks,
    midi: soundingMidi(41),
    pitch: { name: noteName('F'), octave: 2 },
    harmony,
    ...plainLabels(),
    reason: 'Root of the chord.',
    rules: [],
    placement: {
      id: 0,
      string: 2 as StringNumber,
      stop: semitones(3),
      finger: '1',
      position,
      frame: 'closed',
      midi: soundingMidi(41),
    },
    move: {
      kind: 'stay',
      from: position,
      to: position,
      distance: millimetres(0),
      time: seconds(0),
      pressure: 0,
    },
    carry: slot.index === carryAt ? { from: position, to: 7 as HandPosition } : null,
    cost: milli(0),
    items: [],
  }));
  return {
    notes,
    devices: [],
    cost: milli(0),
    report: { ...emptyReport, beats: notes.length },
  };
}

/** The limits leave no line; allowing the first of the positions again would. */
export const makeImpossible = (barred: readonly HandPosition[]): Impossible => {
  const conflict = barred.map((position) => ({
    words: `position ${position} barred`,
    source: { kind: 'limit', limit: 'barred position', position } as const,
  }));
  return {
    message: 'These wishes cannot hold together.',
    freeing: barred,
    conflict,
    cheapest: conflict[0] ?? null,
    together: [],
  };
};

/** A result whose chart is titled by the request's text. */
export function makeResult(request: WalkRequest, line: Line | null, timeline: Timeline | null): WalkResult {
  return {
    chart: {
      header: { title: request.chartText, key: null, meter, tempo: null, feel: 'swing', parts: [] },
      bars: [],
    },
    problems: [],
    timeline,
    line,
    impossible: line ? null : makeImpossible(request.limits.barredPositions),
    timings: {},
  };
}

/** An asker by hand: it keeps what it was asked, cloned as a worker would, and answers when told. */
class HandAsker<Name extends 'walk' | 'explain'> {
  readonly asks: Ask<Name>[] = [];
  onanswer: (answered: Answered<Name>) => void = () => undefined;
  onfailure: (message: string) => void = () => undefined;
  onprogress: OnProgress = () => undefined;
  /** How often it was told to forget what it was asked. */
  cancels = 0;

  readonly connect: Connect<Name> = (onanswer, onfailure, onprogress) => {
    this.onanswer = onanswer;
    this.onfailure = onfailure;
    if (onprogress) this.onprogress = onprogress;
    return {
      cancel: () => {
        this.cancels++;
      },
      request: (ask) => {
        structuredClone(ask);
        this.asks.push(ask);
      },
    };
  };
}

export class HandSource extends HandAsker<'walk'> {
  /** Answers the latest request with a line over so many bars; no line when `bars` is null. */
  answer(bars: number | null = 4, carryAt: number | null = null): void {
    const ask = this.asks.at(-1);
    if (!ask) throw new Error('nothing was asked');
    const timeline = makeTimeline(bars ?? 4, ask.tempo ?? 132);
    const line = bars === null ? null : makeLine(timeline, carryAt);
    this.onanswer({ ask, answer: structuredClone(makeResult(ask, line, timeline)), isLatest: true });
  }
}

export class HandExplainer extends HandAsker<'explain'> {
  /** Answers the latest ask: every note has its own place at no price. */
  answer(): void {
    const ask = this.asks.at(-1);
    const line = ask?.result.line;
    if (!ask || !line) throw new Error('nothing was asked');
    const slots = line.notes.map(({ placement, pitch, label, role }) => ({
      spots: [
        {
          placement,
          pitch,
          label,
          role,
          reason: 'Root of the chord.',
          price: milli(0),
          choices: ask.room ? 2.5 : null,
        },
      ],
      price: milli(0),
      openStringBuys: null,
      choices: ask.room ? 2.5 : null,
      isBoxedIn: false,
    }));
    this.onanswer({ ask, answer: { optimum: milli(0), slots }, isLatest: true });
  }
}

/** The bass most fixtures are for. */
export const bass = defaultInstrument;
