// Wishes in the trade's words, heard in whole takes: each moves the line its own way, and the rules hold at every end.
import { describe, expect, it } from 'vitest';
import { countsOf, type LineNote, type LineWishes } from '../../src/pipeline';
import { toneClass } from '../../src/pipeline/5-line/features';
import { chartText, walked, type Walked } from './request';

const charts = ['back-stairs-blues.txt', 'wet-gravel-blues.txt'];

const takesUnder = (wishes: LineWishes, choruses = 1): readonly Walked[] =>
  charts.flatMap((name) =>
    [11, 12].map((seed) => walked(chartText(name), { wishes, choruses, take: { seed, temperature: 1 } })),
  );

type Counted = (note: LineNote, next: LineNote | undefined) => boolean;
function shareOf(takes: readonly Walked[], counts: Counted): number {
  const notes = takes.flatMap(({ line }) =>
    line.notes.map((note, index) => counts(note, line.notes[index + 1])),
  );
  return notes.filter(Boolean).length / notes.length;
}
const stepTo = (note: LineNote, next: LineNote | undefined): number =>
  Math.abs((next ?? note).midi - note.midi);
const meanOf = (notes: readonly LineNote[]): number =>
  notes.reduce((sum, { midi }) => sum + midi, 0) / notes.length;

const isStep: Counted = (note, next) => [1, 2].includes(stepTo(note, next));
const isOutside: Counted = ({ harmony, midi }) => toneClass(harmony, midi) === 'chrom';
const opensOnRoot: Counted = ({ harmony, midi, slot }) =>
  slot.isChange && toneClass(harmony, midi) === 'root';

describe.each([
  ['bold', opensOnRoot, 'less', 0.06],
  ['leaps', isStep, 'less', 0.15],
  ['outside', isOutside, 'more', 0.03],
] as const)('from one end of "%s" to the other', (name, counts, way, gap) => {
  const [low, usual, high] = [-1, 0, 1].map((value) => takesUnder({ [name]: value }));

  it('there is more or less of what it says, as people play in between', () => {
    const shares = [low!, usual!, high!].map((takes) => shareOf(takes, counts));
    const rising = way === 'more' ? shares : shares.toReversed();
    expect(rising[1]! - rising[0]!).toBeGreaterThan(gap / 3);
    expect(rising[2]! - rising[1]!).toBeGreaterThan(gap / 3);
    expect(rising[2]! - rising[0]!).toBeGreaterThan(gap);
  });

  it('the rules hold', () => {
    for (const takes of [low!, high!]) {
      const bars = takes.reduce((sum, { timeline }) => sum + timeline.bars.length, 0);
      const lines = takes.map(({ line, timeline }) => ({
        midis: line.notes.map(({ midi }) => midi),
        slots: timeline.slots,
      }));
      const count = (fault: Parameters<ReturnType<typeof countsOf>['get']>[0]): number =>
        lines.reduce((sum, { midis, slots }) => sum + countsOf(slots, midis).get(fault)!, 0);
      expect(count('outside left by leap') / bars).toBeLessThan(0.03);
      expect(count('denied on a strong beat') / bars).toBeLessThan(0.06);
      for (const { midis } of lines) {
        midis.slice(1).forEach((midi, index) => {
          expect([10, 11].includes(Math.abs(midi - midis[index]!))).toBe(false);
        });
      }
    }
  });
});

describe('shapes', () => {
  const halves = (shape: 'climb' | 'fall'): readonly [number, number] => {
    const notes = takesUnder({ shapes: [{ section: null, shape }] }).flatMap(({ line, timeline }) =>
      // By place in the section: sections of eight bars, or the twelve of the blues.
      line.notes.map((note) => ({
        note,
        place: (note.bar - 1) % (timeline.bars.length === 12 ? 12 : 8),
        of: timeline.bars.length === 12 ? 12 : 8,
      })),
    );
    const half = (late: boolean): LineNote[] =>
      notes.filter(({ place, of }) => place >= of / 2 === late).map(({ note }) => note);
    return [meanOf(half(false)), meanOf(half(true))];
  };

  it('climb and fall as they say, by three semitones and more', () => {
    const [low, high] = halves('climb');
    expect(high - low).toBeGreaterThan(3);
    const [above, below] = halves('fall');
    expect(above - below).toBeGreaterThan(3);
  });

  it('drawn by hand are followed', () => {
    const { line } = walked(chartText('back-stairs-blues.txt'), {
      wishes: {
        heights: [
          { bar: 1, height: 0 },
          { bar: 6, height: 0 },
          { bar: 7, height: 1 },
          { bar: 12, height: 1 },
        ],
      },
      take: { seed: 1, temperature: 1 },
    });
    const low = line.notes.filter(({ bar }) => bar <= 6);
    const high = line.notes.filter(({ bar }) => bar > 6);
    expect(meanOf(high) - meanOf(low)).toBeGreaterThan(6);
  });
});

describe('a build over three choruses', () => {
  it('climbs and opens fewer chords on the root', () => {
    const takes = takesUnder({ build: 1 }, 3);
    const chorus = (wanted: number): LineNote[] =>
      takes.flatMap(({ line, timeline }) =>
        line.notes.filter(({ bar }) => timeline.bars[bar - 1]!.chorus === wanted),
      );
    expect(meanOf(chorus(2)) - meanOf(chorus(0))).toBeGreaterThan(2);
    const roots = [0, 2].map((one) => {
      const opening = chorus(one).filter(({ slot }) => slot.isChange);
      return opening.filter((note) => opensOnRoot(note, undefined)).length / opening.length;
    });
    expect(roots[0]! - roots[1]!).toBeGreaterThan(0.05);
  });
});
