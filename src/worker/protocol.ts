// What the page and a worker say to each other. Plain values only: every message survives structured cloning.
import type { NightPlan, NightRequest } from '../night';
import type {
  BothWays,
  CarriedLine,
  CarryProblem,
  ChordPart,
  Explanation,
  GivenNote,
  GivenReading,
  GivenRequest,
  FileReading,
  LayerId,
  Lesson,
  LessonWish,
  Line,
  Moment,
  Pass,
  Round,
  RoundWish,
  Timeline,
  WalkRequest,
  WalkResult,
  WaysIn,
  WaysProblem,
} from '../pipeline';

/** A found line to be explained. */
export interface ExplainAsk {
  readonly request: WalkRequest;
  readonly result: WalkResult;
  /** Also work out elbow room, which takes longer. */
  readonly room: boolean;
}

/** Given notes to be fingered the usual and the open way. */
export interface BothWaysAsk {
  readonly notes: readonly GivenNote[];
  readonly request: Omit<GivenRequest, 'way'>;
}

/** A note whose ways in are asked for. */
export interface WaysAsk {
  readonly request: WalkRequest;
  readonly into: Moment;
  /** The part of its chord that the ways lead to. */
  readonly on: ChordPart;
}

/** A layer on a ground, made from the line of another layer there; null for none. */
export interface LessonAsk {
  readonly request: WalkRequest;
  readonly wish: LessonWish;
  readonly from: LayerId | null;
}

export interface LessonAnswer {
  /** The lesson that it was made from; null where none was asked for. */
  readonly before: Lesson | null;
  readonly lesson: Lesson;
}

export interface RoundAsk {
  readonly request: WalkRequest;
  readonly wish: RoundWish;
}

/** A file of any kind, or a text as it was pasted. */
export interface ReadAsk {
  readonly source: Uint8Array | string;
  /** The part that its line is taken from, counted from 1; null for the one that is clearly the bass. */
  readonly part: number | null;
}

/** A file that holds a line of notes. */
export interface LineAsk {
  readonly file: Uint8Array;
  /** The part to take it from, counted from 1; null for the one most like a bass line. */
  readonly part: number | null;
}

/** A line that is to go to another key. */
export interface CarryAsk {
  readonly request: WalkRequest;
  readonly line: Line;
  readonly timeline: Timeline;
  readonly key: NonNullable<WalkRequest['key']>;
}

/** What can be asked of a worker, and what it answers. */
export interface Tasks {
  readonly walk: { readonly ask: WalkRequest; readonly answer: WalkResult };
  readonly explain: { readonly ask: ExplainAsk; readonly answer: Explanation | null };
  readonly read: { readonly ask: ReadAsk; readonly answer: FileReading };
  readonly bothWays: { readonly ask: BothWaysAsk; readonly answer: BothWays };
  readonly ways: { readonly ask: WaysAsk; readonly answer: { readonly found: WaysIn | WaysProblem } };
  readonly readLine: { readonly ask: LineAsk; readonly answer: GivenReading };
  readonly night: { readonly ask: NightRequest; readonly answer: NightPlan };
  readonly lesson: { readonly ask: LessonAsk; readonly answer: LessonAnswer };
  readonly round: { readonly ask: RoundAsk; readonly answer: Round };
  readonly carry: {
    readonly ask: CarryAsk;
    readonly answer: { readonly carried: CarriedLine | CarryProblem };
  };
}
export type TaskName = keyof Tasks;
export type Ask<Name extends TaskName> = Tasks[Name]['ask'];
export type Answer<Name extends TaskName> = Tasks[Name]['answer'];

/** How far a computation has come: the pass over the line that is under way, and how much of it is done, from 0 to 1. */
export interface Progress {
  readonly pass: Pass | 'night' | 'round';
  readonly done: number;
}
/** Told of progress while a computation runs; may be called often. */
export type OnProgress = (progress: Progress) => void;

/** From the page. Ids rise with every message of a client. */
export type ToWorker<Name extends TaskName = TaskName> = {
  readonly [Each in Name]: { readonly task: Each; readonly id: number; readonly ask: Ask<Each> };
}[Name];

/** From the worker. */
export type FromWorker<Name extends TaskName = TaskName> =
  | { readonly kind: 'done'; readonly id: number; readonly answer: Answer<Name> }
  | { readonly kind: 'progress'; readonly id: number; readonly progress: Progress }
  /** The computation ended with an error; the worker lives on. */
  | { readonly kind: 'failed'; readonly id: number; readonly message: string };

/** The computations, wherever they run. */
export type Doers = {
  readonly [Name in TaskName]: (ask: Ask<Name>, onprogress: OnProgress) => Answer<Name>;
};

function doTask(message: ToWorker, doers: Doers, onprogress: OnProgress): Answer<TaskName> {
  switch (message.task) {
    case 'walk':
      return doers.walk(message.ask, onprogress);
    case 'explain':
      return doers.explain(message.ask, onprogress);
    case 'read':
      return doers.read(message.ask, onprogress);
    case 'bothWays':
      return doers.bothWays(message.ask, onprogress);
    case 'ways':
      return doers.ways(message.ask, onprogress);
    case 'readLine':
      return doers.readLine(message.ask, onprogress);
    case 'night':
      return doers.night(message.ask, onprogress);
    case 'lesson':
      return doers.lesson(message.ask, onprogress);
    case 'round':
      return doers.round(message.ask, onprogress);
    case 'carry':
      return doers.carry(message.ask, onprogress);
  }
}

/** Does what a message asks; used alike in the worker and on the page when there is no worker. */
export function reply(message: ToWorker, doers: Doers, onprogress: OnProgress = () => undefined): FromWorker {
  try {
    return { kind: 'done', id: message.id, answer: doTask(message, doers, onprogress) };
  } catch (error) {
    return {
      kind: 'failed',
      id: message.id,
      message: error instanceof Error ? error.message : String(error),
    };
  }
}

/** Passes on no more than one call in `interval` milliseconds; the first comes after one of them. */
export function throttled(onprogress: OnProgress, interval: number, now: () => number): OnProgress {
  let last = now();
  return (progress) => {
    const time = now();
    if (time - last < interval) return;
    last = time;
    onprogress(progress);
  };
}
