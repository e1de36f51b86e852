import { flushSync } from 'svelte';
import { describe, expect, it } from 'vitest';
import { handPosition } from '../../src/instrument';
import { milli, barIndex } from '../../src/music';
import { newStudy, type Study } from '../../src/state/document';
import { Focus } from '../../src/state/focus.svelte';
import type { WalkRequest } from '../../src/pipeline';
import { requestOf } from '../../src/state/request';
import { Studio } from '../../src/state/studio.svelte';
import { desk } from './desk';
import { HandExplainer, HandSource, makeLine, makeResult, makeTimeline } from './fixtures';

describe('the studio', () => {
  it('asks for a line at once and for every change of the document', () => {
    const { studio, source, changes } = desk();
    expect(source.asks).toHaveLength(1);
    studio.set('span', 160);
    studio.set('span', 160);
    expect(source.asks).toHaveLength(2);
    expect(source.asks[1]?.hand.span).toBe(160);
    expect(changes).toHaveLength(1);
  });

  it('starts from a line that is known beforehand, and readies the worker for the first change', () => {
    const study = newStudy('| F7 |');
    const timeline = makeTimeline(4);
    const answer = makeResult(requestOf(study), makeLine(timeline), timeline);
    const source = new HandSource();
    const explainer = new HandExplainer();
    const prepared: WalkRequest[] = [];
    const kept: Study[] = [];
    const studio = new Studio({
      study,
      answer,
      connect: (...listeners) => ({
        ...source.connect(...listeners),
        prepare: (ask) => void prepared.push(ask),
      }),
      connectExplainer: explainer.connect,
      now: () => 0,
      onkept: (version) => kept.push(version),
    });
    expect(studio.shown?.line).toBe(answer.line);
    expect([studio.isSolving, studio.isStale, studio.canUndo]).toEqual([false, false, false]);
    expect(studio.study.kept).toHaveLength(4);
    expect(source.asks).toEqual([]);
    // Nothing of the person's is in it yet, so there is nothing to save.
    expect(kept).toEqual([]);
    expect(explainer.asks.map(({ result }) => result)).toEqual([answer]);
    studio.prepare();
    expect(prepared).toEqual([requestOf(study)]);
    studio.newTake();
    studio.prepare();
    expect(source.asks).toHaveLength(1);
    expect(prepared).toHaveLength(1);
  });

  it('wakes what depends on it, and only when it changes', () => {
    const { studio, source } = desk();
    const seen: (number | null)[] = [];
    const stop = $effect.root(() => {
      $effect(() => {
        seen.push(studio.shown?.line.notes.length ?? null);
      });
    });
    flushSync();
    source.answer(2);
    flushSync();
    studio.select(3);
    flushSync();
    expect(seen).toEqual([null, 8]);
    stop();
  });

  it('keeps the last line on the screen, marked stale, while another is worked out', () => {
    const { studio, source } = desk();
    expect(studio.isStale).toBe(true);
    source.answer(4);
    const { shown } = studio;
    expect(studio.isStale).toBe(false);
    studio.newTake();
    expect(studio.shown).toBe(shown);
    expect(studio.isStale).toBe(true);
    source.answer(4);
    expect(studio.shown).not.toBe(shown);
    expect(studio.isStale).toBe(false);
  });

  it('says how far work over a second has come, and forgets it with the answer', () => {
    const { studio, source, wait } = desk();
    wait(900);
    source.onprogress({ pass: 'forward', done: 0.5 });
    expect(studio.progress).toBeNull();
    wait(100);
    source.onprogress({ pass: 'backward', done: 0.25 });
    expect(studio.progress).toEqual({ pass: 'backward', done: 0.25 });
    source.answer(4);
    expect(studio.progress).toBeNull();
    wait(5_000);
    studio.newTake();
    source.onprogress({ pass: 'filter', done: 0.1 });
    expect(studio.progress).toBeNull();
  });

  it('stops work when told: the last line stays, marked stale, until it is worked out after all', () => {
    const { studio, source, wait } = desk();
    source.answer(4);
    const { shown, study } = studio;
    studio.stop();
    expect([studio.isStopped, source.cancels]).toEqual([false, 0]);
    studio.newTake();
    wait(2_000);
    source.onprogress({ pass: 'path', done: 0.5 });
    studio.stop();
    expect(source.cancels).toBe(1);
    expect([studio.isStopped, studio.isSolving, studio.isStale, studio.progress]).toEqual([
      true,
      false,
      true,
      null,
    ]);
    expect(studio.shown).toBe(shown);
    expect(studio.study).not.toEqual(study);
    studio.solveAgain();
    expect([studio.isStopped, studio.isSolving]).toEqual([false, true]);
    expect(source.asks.at(-1)).toEqual(source.asks.at(-2));
    source.answer(4);
    expect(studio.isStale).toBe(false);
  });

  it('keeps the last line when none is possible, and one act gives a line again', () => {
    const { studio, source } = desk();
    source.answer(4);
    const { shown } = studio;
    studio.toggleBarred(handPosition(1));
    source.answer(null);
    expect(studio.shown).toBe(shown);
    expect(studio.isStale).toBe(true);
    const wish = studio.impossible?.cheapest;
    if (wish) studio.giveUp(wish);
    expect(source.asks.at(-1)?.limits.barredPositions).toEqual([]);
    source.answer(4);
    expect(studio.impossible).toBeNull();
    expect(studio.isStale).toBe(false);
  });

  it('says when the computation broke and asks again', () => {
    const { studio, source } = desk();
    source.answer(4);
    studio.newTake();
    source.onfailure('out of memory');
    expect(studio.failure).toBe('out of memory');
    expect(studio.shown).not.toBeNull();
    const asked = source.asks.length;
    studio.solveAgain();
    expect(source.asks).toHaveLength(asked + 1);
    source.answer(4);
    expect(studio.failure).toBeNull();
  });

  it('undoes typing as one step and a drag as one step', () => {
    const { studio, wait } = desk(newStudy(''));
    for (const text of ['|', '| F', '| F7', '| F7 |']) {
      studio.setChartText(text);
      wait(200);
    }
    for (const span of [151, 155, 160]) studio.set('span', span);
    studio.endGesture();
    studio.set('span', 161);
    studio.undo();
    expect(studio.study.span).toBe(160);
    studio.undo();
    expect(studio.study.span).toBe(150);
    studio.undo();
    expect(studio.study.chartText).toBe('');
    expect(studio.canUndo).toBe(false);
    studio.redo();
    expect(studio.study.chartText).toBe('| F7 |');
  });

  it('keeps takes of one run of passes as one step', () => {
    const { studio, source, wait } = desk();
    for (let pass = 0; pass < 20; pass++) {
      const timeline = makeTimeline(4);
      const ask = source.asks.at(-1)!;
      studio.passTake(pass + 2, makeResult(ask, makeLine(timeline), timeline));
      expect(studio.shown?.timeline).toBe(timeline);
      wait(20_000);
    }
    expect(studio.study.seed).toBe(21);
    studio.undo();
    expect(studio.study.seed).toBe(1);
  });

  it('never records a choice of note or bars', () => {
    const { studio, source, changes } = desk();
    source.answer(4);
    studio.select(5);
    studio.selectBar(barIndex(2));
    expect(studio.canUndo).toBe(false);
    expect(changes).toEqual([]);
  });

  it('has a found line explained: prices first, then elbow room', () => {
    const { studio, source, explainer } = desk();
    expect(explainer.asks).toEqual([]);
    source.answer(4);
    expect(explainer.asks.map(({ room }) => room)).toEqual([false]);
    expect(studio.explanation).toBeNull();
    explainer.answer();
    expect(studio.explanation?.slots).toHaveLength(16);
    expect(studio.explanation?.slots[0]?.choices).toBeNull();
    expect(explainer.asks.map(({ room }) => room)).toEqual([false, true]);
    explainer.answer();
    expect(studio.explanation?.slots[0]?.choices).toBe(2.5);
  });

  it('never shows an explanation of another line', () => {
    const { studio, source, explainer } = desk();
    source.answer(4);
    const [late] = explainer.asks;
    explainer.answer();
    studio.newTake();
    source.answer(4);
    expect(studio.explanation).toBeNull();
    if (late) explainer.onanswer({ ask: late, answer: { optimum: milli(0), slots: [] }, isLatest: false });
    expect(studio.explanation).toBeNull();
  });

  it('keeps choices inside the line', () => {
    const { studio, source } = desk();
    source.answer(8);
    studio.select(99);
    expect(studio.selected).toBe(31);
    studio.select(-4);
    expect(studio.selected).toBe(0);
    studio.select(30);
    studio.setBars({ from: barIndex(2), to: barIndex(7) });
    studio.setChartText('| C7 |');
    source.answer(4);
    expect(studio.selected).toBe(15);
    expect(studio.bars).toEqual({ from: 2, to: 3 });
  });

  it('opens a study with a history of its own', () => {
    const { studio, source, changes } = desk();
    studio.newTake();
    studio.open(newStudy('| Eb7 |'));
    expect(studio.canUndo).toBe(false);
    expect(source.asks.at(-1)?.chartText).toBe('| Eb7 |');
    expect(changes).toHaveLength(1);
  });
});

describe('the note in focus', () => {
  const playing = {
    isPlaying: false,
    sounding: null as number | null,
    held: null as number | null,
    told: null as number | null,
    session: 0,
  };

  it('is one that carries the hand, until one is chosen', () => {
    const { studio, source } = desk();
    const focus = new Focus(studio, playing);
    expect(focus.index).toBeNull();
    source.answer(4, 6);
    expect(focus.index).toBe(6);
    focus.step(1);
    expect(focus.index).toBe(7);
    expect(studio.selected).toBe(7);
  });

  it('is told of after it has been painted', () => {
    const { studio, source } = desk();
    const pictures: (() => void)[] = [];
    const focus = new Focus(studio, playing, (then) => pictures.push(then));
    source.answer(4, 6);
    expect(focus.told).toBe(6);
    focus.step(1);
    focus.step(1);
    const seen = (): unknown => [focus.index, focus.held, focus.told, focus.listed];
    expect(seen()).toEqual([8, 8, 6, 6]);
    pictures.shift()?.();
    pictures.shift()?.();
    expect(seen()).toEqual([8, 8, 8, 6]);
    pictures.shift()?.();
    expect(seen()).toEqual([8, 8, 8, 8]);
  });

  it('follows the sound, stays with a choice made while playing, and follows again the next time', () => {
    const { studio, source } = desk();
    const heard = { ...playing };
    const focus = new Focus(studio, heard);
    source.answer(4);
    Object.assign(heard, { isPlaying: true, sounding: 2, session: 1 });
    expect(focus.index).toBe(2);
    // Lists fold away while the light moves on, and come back for a note that is chosen.
    expect(focus.listed).toBeNull();
    focus.choose(9);
    heard.sounding = 3;
    expect([focus.index, focus.listed]).toEqual([9, 9]);
    Object.assign(heard, { isPlaying: false, sounding: null });
    expect(focus.index).toBe(9);
    Object.assign(heard, { isPlaying: true, sounding: 0, session: 2 });
    expect(focus.index).toBe(0);
  });
});
