// Every feel over the charts, with figures in the rhythm: the line can be played, adds up, and sounds like its feel.
import { describe, expect, it } from 'vitest';
import { defaultInstrument, frameSpan, isHoldable, makeHand, reachOf } from '../../src/instrument';
import { pitchClass, pitchClassOf, barNumber } from '../../src/music';
import { feels, type Articulation, type Feel, type LineNote, type WalkRequest } from '../../src/pipeline';
import { chartNames, chartText, walked } from './request';

const take = (seed: number, temperature = 0.7): WalkRequest['take'] => ({ seed, temperature });

const bassClass = ({ harmony: { chord } }: LineNote): number => pitchClassOf(chord!.bass ?? chord!.root);
const isRoot = (note: LineNote): boolean => pitchClass(note.midi) === bassClass(note);
/** Root, bass or fifth as the chord has it. */
const isRootOrFifth = (note: LineNote): boolean => {
  const chord = note.harmony.chord!;
  const fifths = chord.tones.filter(({ degree }) => degree === 5).map((tone) => tone.pitchClass as number);
  return [bassClass(note), pitchClassOf(chord.root), ...fifths].includes(pitchClass(note.midi));
};
const share = (notes: readonly LineNote[], has: (note: LineNote) => boolean): number =>
  notes.filter(has).length / notes.length;

/** Notes of takes over some charts, each with the note before it. */
function notesOf(names: readonly string[], seeds: number, changes: Partial<WalkRequest>): LineNote[] {
  return names.flatMap((name) =>
    Array.from({ length: seeds }, (_, seed) =>
      walked(chartText(name), { take: take(seed), ...changes }),
    ).flatMap(({ line }) => line.notes),
  );
}

const withArticulation = (
  notes: readonly LineNote[],
  wanted: Articulation,
): readonly { readonly note: LineNote; readonly before: LineNote }[] =>
  notes.flatMap((note, index) =>
    note.slot.articulation === wanted && note.index > 0 ? [{ note, before: notes[index - 1]! }] : [],
  );

// Every other feel of a chart, so that each feel meets every other chart.
const feelsOf = (name: string): readonly Feel[] =>
  feels.filter((_, at) => (at + chartNames.indexOf(name)) % 2 === 0);

describe.each(chartNames)('%s in other feels, with figures', (name) => {
  it.each(feelsOf(name))('%s', (feel) => {
    const { line, timeline } = walked(chartText(name), { feel, density: 0.5, take: take(3) });
    expect(timeline.feel).toBe(feel);
    expect(line.notes.length).toBe(timeline.slots.length);
    for (const note of line.notes) {
      const { placement } = note;
      const string = defaultInstrument.strings[placement.string - 1]!;
      expect(string.open + placement.stop).toBe(note.midi);
      expect(isHoldable(defaultInstrument, makeHand(150), placement)).toBe(true);
      expect(frameSpan(defaultInstrument, placement.position, reachOf(placement))).toBeLessThanOrEqual(150);
      expect(note.items.reduce((sum, item) => sum + item.amount, 0)).toBe(note.cost);
      expect(note.reason).toMatch(/^\S.*\.$/);
      expect(note.reason).not.toMatch(/[{}]|undefined|null/);
    }
    expect(line.notes.reduce((sum, note) => sum + note.cost, 0)).toBe(line.cost);
    const { report } = line;
    expect(report.beats * 480).toBeCloseTo(
      timeline.slots.reduce((sum, slot) => sum + slot.ticks, 0),
      6,
    );
    expect(report.byRegion.reduce((sum, row) => sum + row.share, 0)).toBeCloseTo(1, 9);
  });
});

describe('a request', () => {
  const text = chartText('back-stairs-blues.txt');

  it('without feel, density and ending is the line it always was', () => {
    const plain = walked(text, { take: take(4) });
    const said = walked(text, { take: take(4), feel: null, density: 0, ending: 'round' });
    expect(said.timeline).toEqual(plain.timeline);
    expect(said.line).toEqual(plain.line);
    expect(plain.line.notes).toHaveLength(48);
  });

  it('gives the same line for the same seed', () => {
    const wish = { take: take(4), density: 0.7, feel: 'swing' } as const;
    expect(walked(text, wish).line).toEqual(walked(text, wish).line);
  });

  it('keeps pinned beats whatever the density', () => {
    const pins = Array.from({ length: 12 }, (_, at) => ({
      bar: barNumber(at + 1),
      beat: 1,
      role: 'root' as const,
    }));
    for (let seed = 0; seed < 3; seed++) {
      const { notes } = walked(text, { take: take(seed), density: 1, pins: pins }).line;
      const downbeats = notes.filter(({ beat }) => beat === 1);
      expect(downbeats).toHaveLength(12);
      expect(downbeats.every(isRoot)).toBe(true);
    }
  });
});

describe('figures as they are played', () => {
  const names = ['back-stairs-blues.txt', 'low-ceiling.txt', 'corner-table.txt'];
  const notes = notesOf(names, 4, { density: 1 });

  it('a ghost is the note before it, or an open string', () => {
    const ghosts = withArticulation(notes, 'ghost');
    expect(ghosts.length).toBeGreaterThan(60);
    const usual = ghosts.filter(
      ({ note, before }) => note.midi === before.midi || note.placement.finger === '0',
    );
    expect(usual.length / ghosts.length).toBeGreaterThan(0.85);
  });

  it('a drop falls, and an open string often takes it', () => {
    const drops = withArticulation(notes, 'drop');
    expect(drops.length).toBeGreaterThan(30);
    expect(drops.filter(({ note, before }) => note.midi < before.midi).length / drops.length).toBeGreaterThan(
      0.9,
    );
    const open = share(
      drops.map(({ note }) => note),
      ({ placement }) => placement.finger === '0',
    );
    expect(open).toBeGreaterThan(share(notes, ({ placement }) => placement.finger === '0'));
  });

  it('triplet notes do not rise as a rule', () => {
    const pulled = withArticulation(notes, 'triplet');
    expect(pulled.length).toBeGreaterThan(15);
    expect(
      pulled.filter(({ note, before }) => note.midi <= before.midi).length / pulled.length,
    ).toBeGreaterThan(0.8);
  });

  it('an anticipation is the next chord, and its root where that chord is new', () => {
    const early = withArticulation(notes, 'anticipation').map(({ note }) => note);
    expect(early.length).toBeGreaterThan(10);
    expect(
      share(
        early.filter(({ slot }) => slot.isChange),
        isRoot,
      ),
    ).toBeGreaterThan(0.55);
  });

  it('leaves the melody walking: most steps into a bar are still by a semitone or a tone', () => {
    const own = notes.filter(({ slot }) => !['ghost', 'drop', 'triplet'].includes(slot.articulation ?? ''));
    const into = own.filter(({ slot, index }) => slot.strength === 3 && index > 0);
    const near = into.filter((note) => {
      const before = own[own.indexOf(note) - 1]!;
      return Math.abs(note.midi - before.midi) <= 2 && note.midi !== before.midi;
    });
    expect(near.length / into.length).toBeGreaterThan(0.55);
  });

  it('gives the hand no more time than a short note has', () => {
    const moved = notes.flatMap((note, at) => {
      const isAfterGhost = note.index > 0 && notes[at - 1]!.slot.articulation === 'ghost';
      return isAfterGhost && note.move.kind === 'covered shift' && note.ticks > 240 ? [note] : [];
    });
    const hurried = withArticulation(notes, 'drop').filter(({ note }) => note.move.kind === 'covered shift');
    const mean = (some: readonly LineNote[]): number =>
      some.reduce((sum, { move }) => sum + move.time, 0) / some.length;
    expect(mean(hurried.map(({ note }) => note))).toBeLessThan(mean(moved) * 0.75);
  });
});

describe('feels', () => {
  it('bossa: only roots and fifths, the root on one, straight 1, and of 2, 3, and of 4', () => {
    const notes = notesOf(['ferry-at-noon.txt', 'open-window.txt'], 6, { feel: 'bossa' });
    expect(notes.every(isRootOrFifth)).toBe(true);
    expect(new Set(notes.map(({ beat }) => beat))).toEqual(new Set([1, 2.5, 3, 4.5]));
    const changes = notes.filter(({ slot }) => slot.isChange && slot.strength === 3);
    expect(share(changes, isRoot)).toBeGreaterThan(0.95);
    const fifths = notes.filter(({ beat }) => beat === 2.5);
    expect(share(fifths, isRoot)).toBeLessThan(0.6);
  });

  it('two-feel: half notes that are root or fifth, the root where the chord is new, and quarters that lead on', () => {
    const all = notesOf(['corner-table.txt', 'low-ceiling.txt'], 6, { feel: 'two-feel' });
    expect(all.every(({ ticks }) => ticks === 960 || ticks === 480)).toBe(true);
    const notes = all.filter(({ ticks }) => ticks === 960);
    expect(notes.length / all.length).toBeGreaterThan(0.6);
    expect(share(notes, isRootOrFifth)).toBeGreaterThan(0.85);
    expect(
      share(
        notes.filter(({ slot }) => slot.isChange),
        isRoot,
      ),
    ).toBeGreaterThan(0.75);
  });

  it('two-feel fills more before a change or turn than elsewhere', () => {
    const { timeline } = walked(chartText('slow-tide.txt'), { choruses: 32, density: 1 });
    const filled = (chartBars: readonly number[]): number =>
      timeline.bars.filter(
        ({ chartBar, index }) =>
          chartBars.includes(chartBar) && timeline.slots.some(({ bar, beat }) => bar === index && beat === 4),
      ).length;
    expect(filled([1])).toBeGreaterThan(filled([0]) * 2);
  });

  it('three in one: a note a bar in 3/4, and 3+2 in five', () => {
    const slow = walked(chartText('three-chairs.txt'), { feel: 'two-feel' }).timeline.slots;
    expect(slow.filter(({ isChange }) => isChange).length).toBeGreaterThan(12);
    // Bars that are filled apart, which walk in beats.
    const filled = new Set(
      slow.filter(({ beat, isChange }) => beat !== 1 && !isChange).map(({ bar }) => bar),
    );
    expect(filled.size).toBeLessThan(5);
    const five = walked(chartText('five-steps-down.txt'), { feel: 'two-feel' }).timeline.slots;
    const long = five.filter(({ ticks }) => ticks > 480);
    expect(new Set(long.map(({ beat, ticks }) => `${beat}+${ticks}`))).toEqual(new Set(['1+1440', '4+960']));
    expect(long.length).toBeGreaterThan(16);
  });
});

describe('a pedal point', () => {
  it('is struck again more often than a bass that moves', () => {
    const repeats = (text: string): number => {
      const notes = Array.from({ length: 8 }, (_, seed) => walked(text, { take: take(seed) }).line.notes);
      return notes
        .flat()
        .filter((note, at, all) => at > 0 && note.index > 0 && note.midi === all[at - 1]!.midi).length;
    };
    const pedal = repeats('Key: C\n| Dm7/G Fmaj7/G | Dm7/G Fmaj7/G | Em7/G G7 | C6 |\n');
    const moving = repeats('Key: C\n| Dm7/F Fmaj7/A | Dm7/F Fmaj7/A | Em7/B G7 | C6 |\n');
    expect(pedal).toBeGreaterThan(2 * moving + 10);
  });
});

describe('a final ending', () => {
  it.each(chartNames)('of %s rests on the tonic for the last bar', (name) => {
    const { line, timeline } = walked(chartText(name), { ending: 'final', density: 0.5, take: take(1) });
    const last = line.notes.at(-1)!;
    const { key, tick, ticks } = timeline.bars.at(-1)!;
    expect(last.tick + last.ticks).toBe(tick + ticks);
    expect(last.ticks).toBeGreaterThanOrEqual(ticks);
    expect(isRoot(last)).toBe(true);
    if (name !== 'slow-tide.txt') expect(pitchClass(last.midi)).toBe(pitchClassOf(key.tonic));
  });
});

describe('a tag', () => {
  it.each(['back-stairs-blues.txt', 'corner-table.txt', 'wet-gravel-blues.txt'])(
    'of %s says its phrase in other notes each time, and rests on the tonic',
    (name) => {
      const { line, timeline } = walked(chartText(name), { ending: 'tag', take: take(1) });
      const figureOf = (bar: number): string =>
        String(line.notes.filter((note) => note.bar - 1 === bar).map(({ midi }) => midi % 12));
      const { length } = timeline.bars;
      const phrases = [12, 8, 4].map((back) =>
        [0, 1].map((bar) => figureOf(length - back + bar)).join(' | '),
      );
      expect(new Set(phrases).size).toBe(3);
      const last = line.notes.at(-1)!;
      expect([isRoot(last), pitchClass(last.midi)]).toEqual([
        true,
        pitchClassOf(timeline.bars.at(-1)!.key.tonic),
      ]);
    },
  );
});

describe('feels in their own language', () => {
  const inFeel = (feel: Feel, names: readonly string[]): readonly LineNote[] =>
    names.flatMap((name) =>
      [1, 2, 3].flatMap((seed) => [...walked(chartText(name), { feel, take: take(seed, 1) }).line.notes]),
    );

  it('a two-feel is root and fifth, and walks into some of its changes', () => {
    const notes = inFeel('two-feel', ['corner-table.txt', 'back-stairs-blues.txt']);
    const held = notes.filter(({ slot }) => slot.isSustained);
    expect(share(held, isRootOrFifth)).toBeGreaterThan(0.8);
    const filling = notes.filter(({ slot }) => !slot.isSustained);
    expect(filling.length / notes.length).toBeGreaterThan(0.1);
    expect(filling.length / notes.length).toBeLessThan(0.4);
  });

  it('a ballad opens its chords on the root and holds some notes', () => {
    const ballad = inFeel('ballad', ['last-coat-on-the-hook.txt']);
    const swung = inFeel('swing', ['last-coat-on-the-hook.txt']);
    const opening = (notes: readonly LineNote[]): LineNote[] => notes.filter(({ slot }) => slot.isChange);
    expect(share(opening(ballad), isRoot)).toBeGreaterThan(share(opening(swung), isRoot) + 0.05);
    expect(share(ballad, ({ slot }) => slot.isSustained === true)).toBeGreaterThan(0.1);
  });

  it('a mode is played around: fewer bars open on the root, and the line travels', () => {
    const mode = 'Title: Mode\nKey: D minor\n[A] | Dm7 | % | % | % | % | % | % | % |\n';
    const lines = [1, 2, 3, 4].map((seed) => walked(mode, { take: take(seed, 1) }).line.notes);
    const inner = lines.flat().filter(({ beat, bar }) => beat === 1 && bar > 1);
    expect(share(inner, isRoot)).toBeLessThan(0.5);
    for (const notes of lines) {
      const midis = notes.map(({ midi }) => midi);
      expect(Math.max(...midis) - Math.min(...midis)).toBeGreaterThanOrEqual(9);
    }
  });
});
