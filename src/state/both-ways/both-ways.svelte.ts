// Lines that are given, fingered both ways: the walk on the sheet, a scale or pattern, the player's own notes.
import { parseKey, type Bpm } from '../../music';
import { handPosition } from '../../instrument';
import {
  makePattern,
  parseMeter,
  parseNotes,
  type BothWays,
  type GivenNote,
  type GivenRequest,
  type GivenResult,
  type HandReport,
  type PrintedPlace,
  type Problem,
} from '../../pipeline';
import type { Answered, BothWaysAsk } from '../../worker';
import { requestOf, type Settings, type ShownLine, type Studio } from '..';
import { readBothWays, type BothWaysWish } from './wish';
import { writtenNotes, type MarkedNote } from './written';

/** The notes that are given, and what stands in the way of fingering them. */
interface Given {
  readonly notes: readonly GivenNote[];
  readonly title: string;
  readonly frame: Partial<GivenRequest>;
  readonly problems: readonly Problem[];
  /** Why there are no notes, in words. */
  readonly refused: string | null;
}

/** The two ways; of a walk, the open way is the line on the sheet as it is. */
export interface FingeredBothWays {
  readonly usual: GivenResult;
  readonly open: GivenResult;
  /** Notes at which a file has fingers of its own. */
  readonly written: readonly MarkedNote[];
}

const nothing = (refused: string | null, problems: readonly Problem[] = []): Given => ({
  notes: [],
  title: '',
  frame: {},
  problems,
  refused,
});

/** What is asked of a worker, and the walk that it is asked about. */
interface Question {
  readonly ask: BothWaysAsk;
  readonly walk: ShownLine | null;
  readonly printed: readonly PrintedPlace[];
}

/** Makes an asker that answers through the two functions. */
export type ConnectBothWays = (
  onanswer: (answered: Answered<'bothWays'>) => void,
  onfailure: (message: string) => void,
) => { request(ask: BothWaysAsk): void; cancel(): void; dispose(): void };

/** The side of a studio that this looks at. */
type Desk = Pick<Studio, 'study' | 'shown' | 'instrument' | 'hand' | 'title'>;

export class BothWaysDesk {
  readonly #studio: Desk;
  readonly #settings: Settings;
  readonly #tempo: () => Bpm;
  readonly #wish: BothWaysWish = $derived.by(() => readBothWays(this.#settings.values.bench));
  readonly #given: Given = $derived.by(() => this.#find());
  readonly #question: Question | null = $derived.by(() => this.#ask());
  readonly #asker: ReturnType<ConnectBothWays>;
  #asked: Question | null = null;
  #found = $state.raw<{ readonly question: Question; readonly both: BothWays } | null>(null);
  #failure = $state<string | null>(null);
  readonly #ways: FingeredBothWays | null = $derived.by(() => this.#compose());

  /** @param tempo what the lines are played at */
  constructor(studio: Desk, settings: Settings, tempo: () => Bpm, connect: ConnectBothWays) {
    this.#studio = studio;
    this.#settings = settings;
    this.#tempo = tempo;
    this.#asker = connect(
      ({ ask, answer }) => {
        if (ask === this.#asked?.ask) this.#found = { question: this.#asked, both: answer };
      },
      (message) => {
        this.#failure = message;
      },
    );
  }

  /** Ends its thread; later work starts another. */
  close(): void {
    this.#asked = null;
    this.#asker.dispose();
  }

  /** Has the present notes fingered; to be called in an effect, so that it follows every change. */
  work(): void {
    const question = this.#question;
    this.#asked = question;
    this.#failure = null;
    if (question) this.#asker.request(question.ask);
    else this.#asker.cancel();
  }

  get wish(): BothWaysWish {
    return this.#wish;
  }
  get title(): string {
    return this.#given.title;
  }
  get problems(): readonly Problem[] {
    return this.#given.problems;
  }
  get refused(): string | null {
    return this.#given.refused;
  }
  /** True while other notes are shown than the present ones. */
  get isStale(): boolean {
    return this.#failure === null && this.#question !== null && this.#found?.question !== this.#question;
  }
  /** Why the computation itself broke; null when it did not. */
  get failure(): string | null {
    return this.#failure;
  }
  /** The last that were found; null when there is nothing to finger. */
  get ways(): FingeredBothWays | null {
    return this.#ways;
  }
  get reports(): { readonly usual: HandReport | null; readonly open: HandReport | null } {
    return { usual: this.#ways?.usual.line?.report ?? null, open: this.#ways?.open.line?.report ?? null };
  }

  change(part: Partial<BothWaysWish>): void {
    // Fingers of a file go with its notes alone.
    const forgets = part.own !== undefined && part.ownPrinted === undefined ? { ownPrinted: [] } : {};
    this.#settings.change({ bench: { ...this.wish, ...forgets, ...part } });
  }

  #find(): Given {
    const { source, pattern, own, ownTitle } = this.wish;
    if (source === 'walk') return this.#walk();
    if (source === 'own') {
      if (own.trim() === '') return nothing(null);
      const { notes, problems } = parseNotes(own);
      const key = parseKey(this.wish.ownKey);
      const meter = parseMeter(this.wish.ownMeter);
      const frame = { title: ownTitle, ...(key && { key }), ...(meter && { meter }) };
      return { notes, title: ownTitle, frame, problems, refused: null };
    }
    const made = makePattern(pattern, this.#studio.instrument);
    if (made.pattern === null) return nothing(made.problem);
    const { notes, key, title } = made.pattern;
    return { notes, title, frame: { key, title }, problems: [], refused: null };
  }

  #walk(): Given {
    const { shown, title } = this.#studio;
    if (!shown) return nothing(null);
    const notes = shown.line.notes.map(({ midi, tick, ticks, pitch }): GivenNote => ({
      midi,
      tick,
      ticks,
      name: pitch.name,
    }));
    const { timeline } = shown;
    return { notes, title, frame: { timeline, key: timeline.key, title }, problems: [], refused: null };
  }

  #ask(): Question | null {
    const { notes, frame } = this.#given;
    if (notes.length === 0) return null;
    const { instrument, hand, study, shown } = this.#studio;
    const { source, withoutHalf } = this.wish;
    const { limits } = requestOf(study);
    const half = handPosition(1);
    const isBarred = source === 'walk' || !withoutHalf || study.barred.includes(half);
    const barred = isBarred ? study.barred : [half, ...study.barred];
    const request = {
      instrument,
      hand,
      tempo: this.#tempo(),
      limits: { ...limits, barredPositions: barred },
      comfort: study.comfort,
      ...frame,
    };
    return {
      ask: { notes, request },
      walk: source === 'walk' ? shown : null,
      printed: source === 'own' ? this.wish.ownPrinted : [],
    };
  }

  #compose(): FingeredBothWays | null {
    if (!this.#found || !this.#question) return null;
    const { question, both } = this.#found;
    return question.walk
      ? { ...both, open: { ...question.walk, problems: [], impossible: null }, written: [] }
      : { ...both, written: writtenNotes(both, question.printed) };
  }
}
