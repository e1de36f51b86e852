// Lines that are given, fingered both ways: the walk on the sheet, a scale or pattern, the player's own notes.
import type { Bpm } from '../../music';
import { handPosition } from '../../instrument';
import {
  fingerBothWays,
  makePattern,
  parseNotes,
  type GivenNote,
  type GivenRequest,
  type GivenResult,
  type HandReport,
  type Problem,
} from '../../pipeline';
import { requestOf, type Settings, type Studio } from '..';
import { readBench, type BenchWish } from './wish';

/** The notes on the bench, and what stands in the way of fingering them. */
interface Given {
  readonly notes: readonly GivenNote[];
  readonly title: string;
  readonly frame: Partial<GivenRequest>;
  readonly problems: readonly Problem[];
  /** Why there are no notes, in words. */
  readonly refused: string | null;
}

/** The two ways; of a walk, the open way is the line on the sheet as it is. */
export interface BenchWays {
  readonly usual: GivenResult;
  readonly open: GivenResult;
}

const nothing = (refused: string | null, problems: readonly Problem[] = []): Given => ({
  notes: [],
  title: '',
  frame: {},
  problems,
  refused,
});

/** The side of a studio that the bench looks at. */
type Desk = Pick<Studio, 'study' | 'shown' | 'instrument' | 'hand' | 'title'>;

export class Bench {
  readonly #studio: Desk;
  readonly #settings: Settings;
  readonly #tempo: () => Bpm;
  readonly #wish: BenchWish = $derived.by(() => readBench(this.#settings.values.bench));
  readonly #given: Given = $derived.by(() => this.#find());
  readonly #ways: BenchWays | null = $derived.by(() => this.#finger());

  /** @param tempo what the lines are played at */
  constructor(studio: Desk, settings: Settings, tempo: () => Bpm) {
    this.#studio = studio;
    this.#settings = settings;
    this.#tempo = tempo;
  }

  get wish(): BenchWish {
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
  /** Null when there is nothing to finger. */
  get ways(): BenchWays | null {
    return this.#ways;
  }
  get reports(): { readonly usual: HandReport | null; readonly open: HandReport | null } {
    return { usual: this.#ways?.usual.line?.report ?? null, open: this.#ways?.open.line?.report ?? null };
  }

  change(part: Partial<BenchWish>): void {
    this.#settings.change({ bench: { ...this.wish, ...part } });
  }

  #find(): Given {
    const { source, pattern, own } = this.wish;
    if (source === 'walk') return this.#walk();
    if (source === 'own') {
      if (own.trim() === '') return nothing(null);
      const { notes, problems } = parseNotes(own);
      return { notes, title: '', frame: {}, problems, refused: null };
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

  #finger(): BenchWays | null {
    const { notes, frame } = this.#given;
    if (notes.length === 0) return null;
    const { instrument, hand, study, shown } = this.#studio;
    const { source, withoutHalf } = this.wish;
    const { limits } = requestOf(study);
    const half = handPosition(1);
    const isBarred = source === 'walk' || !withoutHalf || study.barred.includes(half);
    const barred = isBarred ? study.barred : [half, ...study.barred];
    const both = fingerBothWays(notes, {
      instrument,
      hand,
      tempo: this.#tempo(),
      limits: { ...limits, barredPositions: barred },
      comfort: study.comfort,
      ...frame,
    });
    if (source !== 'walk' || !shown) return both;
    return { ...both, open: { ...shown, problems: [], impossible: null } };
  }
}
