import { describe, expect, it } from 'vitest';
import { defaultInstrument, frameSpan, isHoldable, makeHand, reachOf } from '../../src/instrument';
import { bpm } from '../../src/music';
import { emptyCaches, pathCost, pricedPaths, walk, type LineNote } from '../../src/pipeline';
import { chartNames, chartText, positions, requestFor, walked, walkKept } from './request';

const takes = [
  { seed: 1, temperature: 0 },
  { seed: 1, temperature: 0.7 },
  { seed: 2, temperature: 1 },
];

function expectPlayable(notes: readonly LineNote[], span: number): void {
  for (const note of notes) {
    const { placement } = note;
    const string = defaultInstrument.strings[placement.string - 1]!;
    expect(string.open + placement.stop).toBe(note.midi);
    expect(isHoldable(defaultInstrument, makeHand(span), placement)).toBe(true);
    expect(frameSpan(defaultInstrument, placement.position, reachOf(placement))).toBeLessThanOrEqual(span);
  }
}

describe('the cost of a line', () => {
  // One memory for all: what a chart left is not taken for what another needs.
  const caches = emptyCaches();
  it.each(chartNames)('is that of its path, whatever was solved before: %s', (name) => {
    for (const take of takes) {
      const request = requestFor(chartText(name), { choruses: 3, take });
      const { line } = walk(request, undefined, caches);
      const { instance, path } = pricedPaths(request, caches)!.under([])!;
      expect(pathCost(instance.lattice, path)).toBe(line!.cost);
    }
  });
});

describe.each(chartNames)('a line for %s', (name) => {
  it.each(takes)(
    'can be played by the hand, and its costs add up (seed $seed, temperature $temperature)',
    (take) => {
      const { line, timeline } = walked(chartText(name), { choruses: 2, take });
      expect(line.notes.length).toBe(timeline.slots.length);
      expectPlayable(line.notes, 150);
      for (const note of line.notes) {
        expect(note.items.reduce((sum, item) => sum + item.amount, 0)).toBe(note.cost);
        expect(Number.isInteger(note.cost)).toBe(true);
        expect(note.reason).toMatch(/^\S.*\.$/);
        expect(note.reason).not.toMatch(/[{}]|undefined|null/);
      }
      expect(line.notes.reduce((sum, note) => sum + note.cost, 0)).toBe(line.cost);
    },
  );

  it('keeps out of barred positions', () => {
    const barred = positions('half', 'II');
    const { line } = walked(chartText(name), {
      limits: { barredPositions: barred },
      take: { seed: 3, temperature: 0.7 },
    });
    for (const note of line.notes) expect(barred).not.toContain(note.placement.position);
    expectPlayable(line.notes, 150);
  });

  it('has a report that agrees with its notes', () => {
    const { line, timeline } = walked(chartText(name), { take: { seed: 4, temperature: 0.7 } });
    const { report } = line;
    expect(report.beats * 480).toBe(timeline.slots.reduce((sum, slot) => sum + slot.ticks, 0));
    expect(report.byRegion.reduce((sum, row) => sum + row.share, 0)).toBeCloseTo(1, 9);
    const stopped = report.byPosition.reduce((sum, row) => sum + row.beats, 0);
    const open = report.byRegion.find((row) => row.region === 'open')!.beats;
    expect(stopped + open).toBeCloseTo(report.beats, 9);
    expect(report.coveredShifts).toBe(line.notes.filter((note) => note.move.kind === 'covered shift').length);
    // A pivot is no shift, and yet takes its time.
    const shifts = line.notes.filter(({ move }) =>
      ['bare shift', 'covered shift', 'pivot'].includes(move.kind),
    );
    expect(report.hardestMove?.move.pressure ?? 0).toBe(
      Math.max(0, ...shifts.map(({ move }) => move.pressure)),
    );
  });
});

describe('takes', () => {
  const text = chartText('back-stairs-blues.txt');
  const notesOf = (seed: number, temperature: number): string =>
    walked(text, { take: { seed, temperature } })
      .line.notes.map((note) => `${note.midi}/${note.placement.id}`)
      .join(' ');

  it('are the same for the same seed, and differ from seed to seed', () => {
    expect(notesOf(5, 0.7)).toBe(notesOf(5, 0.7));
    expect(new Set([1, 2, 3, 4, 5].map((seed) => notesOf(seed, 0.7))).size).toBe(5);
  });

  it('are never better than the best line', () => {
    const best = walked(text).line.cost;
    for (let seed = 1; seed <= 10; seed++) {
      expect(walked(text, { take: { seed, temperature: 0.5 } }).line.cost).toBeGreaterThanOrEqual(best);
    }
  });
});

describe('what the hand pays', () => {
  const text = chartText('back-stairs-blues.txt');
  const bareAt = (tempo: number): { shifts: number; distance: number } => {
    const all = [1, 2, 3, 4, 5, 6].flatMap(
      (seed) => walked(text, { tempo: bpm(tempo), choruses: 2, take: { seed, temperature: 0.7 } }).line.notes,
    );
    const bare = all.filter((note) => note.move.kind === 'bare shift');
    return { shifts: bare.length, distance: bare.reduce((sum, note) => sum + note.move.distance, 0) };
  };

  it('makes bare shifts fewer and shorter at 260 than at 60', () => {
    const slow = bareAt(60);
    const fast = bareAt(260);
    expect(fast.shifts).toBeLessThan(slow.shifts);
    expect(fast.distance / Math.max(1, fast.shifts)).toBeLessThan(slow.distance / slow.shifts);
  });

  it('makes a smaller hand stretch less', () => {
    const stretches = (span: number): number =>
      [1, 2, 3].reduce(
        (sum, seed) =>
          sum +
          walked(text, {
            hand: makeHand(span),
            choruses: 2,
            take: { seed, temperature: 0.7 },
          }).line.notes.filter((note) => note.placement.frame === 'extended').length,
        0,
      );
    expect(stretches(125)).toBeLessThan(stretches(190));
  });
});

describe('when no line is possible', () => {
  it('says which positions are barred and which one, allowed again, is enough', () => {
    const all = positions('half', 'I', 'II', 'II½', 'III', 'III½', 'IV', 'V', 'V½', 'VI', 'VI½', 'VII');
    const result = walkKept(
      requestFor(chartText('back-stairs-blues.txt'), { limits: { barredPositions: all } }),
    );
    expect(result.line).toBeNull();
    expect(result.impossible?.message).toContain('barred');
    expect(result.impossible?.cheapest).not.toBeNull();
    expect(result.impossible?.freeing.length).toBeGreaterThan(0);
    const freed = result.impossible!.freeing[0]!;
    const again = walkKept(
      requestFor(chartText('back-stairs-blues.txt'), {
        limits: { barredPositions: all.filter((one) => one !== freed) },
      }),
    );
    expect(again.line).not.toBeNull();
  });
});

describe('bad input', () => {
  it.each([
    ['nothing at all', ''],
    ['only a title', 'Title: Nothing here\n'],
    ['binary junk', String.fromCharCode(...Array.from({ length: 4000 }, (_, index) => (index * 7919) % 256))],
    [
      'one of every character',
      Array.from({ length: 0x3000 }, (_, index) => String.fromCharCode(index)).join(''),
    ],
  ])('%s gives messages and no line', (_what, text) => {
    const result = walk(requestFor(text));
    expect(result.line).toBeNull();
    expect(result.problems.length).toBeGreaterThan(0);
    for (const problem of result.problems) {
      expect(problem.message).toMatch(/\S/);
      expect(problem.line).toBeGreaterThanOrEqual(1);
      expect(problem.column).toBeGreaterThanOrEqual(1);
    }
  });

  it('a chord nobody knows is named at its place, and the rest of the chart is played', () => {
    const { line, problems } = walked('Key: F\n| F7 | Xyz9 | Bb7 | C7 |\n');
    expect(line.notes).toHaveLength(16);
    expect(problems.find((problem) => problem.line === 2)).toMatchObject({ severity: 'error', column: 8 });
  });

  it('ten thousand bars end in a message, not in a hang', () => {
    const text = `Key: C\n${'| C6 | Dm7 G7 '.repeat(5000)}|\n`;
    const result = walk(requestFor(text));
    expect(result.line?.notes).toHaveLength(4096);
    expect(result.problems.map((problem) => problem.message).join(' ')).toMatch(/bars/);
  });
});

describe('a take hardly freer than the best line', () => {
  it.each([1e-6, 4e-4, 0.01])('at variety %d is a line', (temperature) => {
    const text = chartText('corner-table.txt');
    const best = walked(text, { take: { seed: 1, temperature: 0 } }).line;
    const { line } = walked(text, { take: { seed: 1, temperature } });
    expect(line.notes).toHaveLength(best.notes.length);
    if (temperature < 5e-4)
      expect(line.notes.map(({ midi }) => midi)).toEqual(best.notes.map(({ midi }) => midi));
  });
});
