import { describe, expect, it } from 'vitest';
import { barIndex, barNumber } from '../../src/music';
import { handPosition, type Placement } from '../../src/instrument';
import { walk, type WalkResult } from '../../src/pipeline';
import { BarActs } from '../../src/state/bar-acts.svelte';
import { Beside } from '../../src/state/beside.svelte';
import { newStudy } from '../../src/state/document';
import { desk } from './desk';
import { HandSource } from './fixtures';

describe('the notes that were shown', () => {
  it('are in the document without a step of their own; a study only opened is not saved for it', () => {
    const { studio, source, kept } = desk();
    source.answer(4);
    expect(studio.study.kept).toHaveLength(4);
    expect(studio.canUndo).toBe(false);
    expect(kept).toHaveLength(0);
    studio.set('tempo', 150);
    source.answer(4);
    studio.toggleBarred(handPosition(1));
    source.answer(2);
    expect(kept.map((one) => one.kept.length)).toEqual([4, 2]);
    studio.undo();
    expect(studio.study.kept).toHaveLength(4);
    expect(source.asks.at(-1)?.kept).toHaveLength(4);
  });

  it('go with an edit, marked with what they were made for, and not with a new take', () => {
    const { studio, source } = desk();
    source.answer(4);
    expect(studio.study.kept.every(({ mark }) => mark === undefined)).toBe(true);
    studio.setChartText('| Bb7 |');
    expect(source.asks.at(-1)?.kept?.every(({ mark }) => mark !== undefined)).toBe(true);
    studio.newTake();
    expect(source.asks.at(-1)?.kept).toEqual([]);
  });

  it('survive a chord half typed', () => {
    const { studio, source } = desk();
    source.answer(4);
    const before = studio.study.kept.map(({ notes }) => notes);
    studio.setChartText('| F |');
    source.answer(1);
    studio.setChartText('| F7 |  ');
    expect(source.asks.at(-1)?.kept?.map(({ notes }) => notes)).toEqual(before);
  });

  it('stand back at no variety: an edit asks for the best line there is', () => {
    const { studio, source } = desk(newStudy('| F7 |', { temperature: 0 }));
    source.answer(4);
    studio.toggleBarred(handPosition(1));
    const ask = source.asks.at(-1)!;
    expect(ask.kept?.every(({ mark }) => mark !== undefined)).toBe(true);
    expect(walk(ask).line).toEqual(walk({ ...ask, kept: [] }).line);
  });

  it('that could not stay are told', () => {
    const { source, lost } = desk(
      newStudy('| F7 |', { kept: [{ bar: barNumber(1), hold: 'locked', notes: [] }] }),
    );
    const ask = source.asks.at(-1)!;
    source.answer(4);
    expect(lost).toEqual([]);
    const { studio } = desk();
    expect(studio.locked).toEqual([]);
    const second = desk(newStudy('| F7 |', { kept: ask.kept! }));
    const answer: WalkResult = {
      chart: { header: {} as never, bars: [] },
      problems: [],
      timeline: null,
      line: null,
      impossible: null,
      timings: {},
    };
    second.source.answer(4);
    const { timeline, line } = second.studio.shown!;
    const keeping = { locked: [], lostLocks: 1, lostNotes: 0 };
    second.source.onanswer({ ask, answer: { ...answer, timeline, line, keeping }, isLatest: true });
    expect(second.lost).toEqual(['locked bars']);
  });
});

describe('acts on bars', () => {
  it('take the chosen bars, else the bar in focus', () => {
    const { studio, source } = desk();
    source.answer(4);
    const notices: string[] = [];
    const acts = new BarActs({
      studio,
      focus: { index: 5 },
      notices: { show: ({ code }) => notices.push(code) },
    });
    expect(acts.range).toEqual({ from: 1, to: 1 });
    studio.setBars({ from: barIndex(2), to: barIndex(3) });
    expect(acts.range).toEqual({ from: 2, to: 3 });
    acts.redraw();
    expect(source.asks.at(-1)?.kept?.map(({ hold }) => hold)).toEqual([undefined, undefined, 'free', 'free']);
    expect(source.asks.at(-1)?.take.redraws).toBe(1);
    source.answer(4);
    acts.toggleKept();
    expect(studio.locked).toEqual([3, 4]);
    expect(acts.isKept).toBe(true);
    acts.redraw();
    expect(notices).toEqual(['all locked']);
    studio.undo();
    expect(studio.locked).toEqual([]);
  });
});

function deskWithBeside() {
  const made = desk();
  const besideSource = new HandSource();
  return { ...made, beside: new Beside(made.studio, besideSource.connect), besideSource };
}

describe('a line laid beside', () => {
  it('is tried without touching the document, and taken over with its notes', () => {
    const { studio, source, explainer, beside, besideSource } = deskWithBeside();
    expect(beside.step(0, 1)).toBe(false);
    source.answer(2);
    explainer.answer();
    const { study } = studio;
    expect(beside.step(3, 1)).toBe(true);
    expect(beside.placeAt(3)).toBe(0);
    expect(beside.line).toBeNull();
    besideSource.answer(2);
    expect(beside.line?.line.notes).toHaveLength(8);
    expect(studio.study).toBe(study);
    expect(besideSource.asks.at(-1)?.take.temperature).toBe(0);
    expect(besideSource.asks.at(-1)?.pins).toHaveLength(1);
    expect(beside.take()).toBe(true);
    expect(studio.study.pins).toHaveLength(1);
    expect(beside.what).toBeNull();
    expect(beside.take()).toBe(false);
  });

  it('goes when the line it was about goes, and when it is left', () => {
    const { studio, source, beside, besideSource } = deskWithBeside();
    source.answer(2);
    beside.withoutOpen(1);
    expect(besideSource.asks.at(-1)?.pins).toMatchObject([{ role: 'stopped' }]);
    besideSource.answer(null);
    expect(beside.isImpossible).toBe(true);
    studio.newTake();
    source.answer(2);
    expect(beside.what).toBeNull();
    expect(beside.close()).toBe(false);
  });

  it('pins a way with the notes that were shown for it', () => {
    const { studio, source } = desk();
    source.answer(2);
    const tried = studio.shown!;
    const placement: Placement = { ...tried.line.notes[0]!.placement, finger: '2' };
    studio.pinWay(0, placement, tried);
    expect(source.asks.at(-1)?.pins?.[0]).toMatchObject({ bar: 1, beat: 1, finger: '2' });
    expect(source.asks.at(-1)?.kept).toHaveLength(2);
  });
});
