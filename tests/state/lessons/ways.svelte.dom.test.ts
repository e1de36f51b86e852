// Ways into a note of the shown line, asked for and kept.
import { describe, expect, it } from 'vitest';
import type { LineNote, WalkResult } from '../../../src/pipeline';
import type { BarRange } from '../../../src/playback';
import { newStudy } from '../../../src/state';
import { notesOf, WaysDesk, type ConnectWays } from '../../../src/state/lessons';
import { doers } from '../../../src/worker/doers';
import type { WaysAsk } from '../../../src/worker';
import { chartText, walked } from '../../pipeline/request';

function desk() {
  const text = chartText('back-stairs-blues.txt');
  const shown = walked(text, { take: { seed: 1, temperature: 1 } });
  const pinned: LineNote[] = [];
  const studio = {
    study: newStudy(text),
    shown: shown as { line: typeof shown.line; timeline: typeof shown.timeline } | null,
    pinNotes: (notes: readonly LineNote[]) => void pinned.push(...notes),
    showTake: (_result: WalkResult | null): void => undefined,
  };
  // The desk knows the line by its object.
  const own = studio.shown;
  studio.showTake = (result) => {
    studio.shown = result?.line && result.timeline ? { line: result.line, timeline: result.timeline } : own;
  };
  const heard: BarRange[] = [];
  const player = {
    isPlaying: false,
    isStarting: false,
    stop: () => void (player.isPlaying = false),
    hearBars: (bars: BarRange) => {
      heard.push(bars);
      player.isPlaying = true;
      return Promise.resolve();
    },
  };
  let disposed = 0;
  let answer: () => void = () => undefined;
  let fail: () => void = () => undefined;
  const connect: ConnectWays = (onanswer, onfailure) => ({
    request: (ask: WaysAsk) => {
      answer = () => onanswer({ ask, answer: doers.ways(ask, () => undefined), isLatest: true });
      fail = () => onfailure('broken');
    },
    cancel: () => undefined,
    dispose: () => void disposed++,
  });
  const ways = new WaysDesk(studio, player, connect);
  return {
    studio,
    player,
    heard,
    ways,
    pinned,
    answer: () => answer(),
    fail: () => fail(),
    disposals: () => disposed,
  };
}

describe('the ways desk', () => {
  it('works the ways into a note out, and keeps one with the note it leads to', () => {
    const { studio, ways, pinned, answer } = desk();
    const index = studio.shown!.line.notes.findIndex(({ bar, beat }) => bar === 10 && beat === 1);
    ways.ask(index, 'root');
    expect(ways.isWorking).toBe(true);
    answer();
    expect(ways.isWorking).toBe(false);
    const below = ways.ways.find(({ device }) => device === 'semitone below')!;
    ways.keep(below);
    expect(pinned).toEqual(notesOf(below));
    expect(pinned.at(-1)).toMatchObject({ bar: 10, beat: 1 });
    expect(pinned.at(-1)!.midi - pinned[0]!.midi).toBe(1);
  });

  it('lets a way be heard before it is kept: its bars, its line on the sheet, and then the study’s again', async () => {
    const { studio, player, heard, ways, answer } = desk();
    const index = studio.shown!.line.notes.findIndex(({ bar, beat }) => bar === 10 && beat === 1);
    const own = studio.shown;
    ways.ask(index, 'root');
    answer();
    const below = ways.ways.find(({ device }) => device === 'semitone below')!;
    await ways.hear(below);
    expect([ways.heard, studio.shown!.line, heard]).toEqual([below, below.line, [{ from: 8, to: 9 }]]);
    expect(ways.ways).toContain(below);
    ways.follow();
    expect(ways.heard).toBe(below);
    // The bars are over.
    player.isPlaying = false;
    ways.follow();
    expect([ways.heard, studio.shown]).toEqual([null, own]);
    await ways.hear(below);
    await ways.hear(below);
    expect([ways.heard, player.isPlaying, studio.shown]).toEqual([null, false, own]);
    await ways.hear(below);
    ways.keep(below);
    expect([ways.heard, player.isPlaying, studio.shown]).toEqual([null, false, own]);
  });

  it('says why there is none, and forgets what it knew when the line changes', () => {
    const { studio, ways, answer } = desk();
    ways.ask(1, 'root');
    answer();
    expect([ways.problem, ways.ways]).toEqual(['no target', []]);
    studio.shown = null;
    expect([ways.index, ways.problem]).toEqual([null, null]);
  });

  it('can be stopped, and says when the work broke', () => {
    const { ways, fail, answer, disposals } = desk();
    ways.ask(4, 'root');
    fail();
    expect([ways.hasFailed, ways.isWorking]).toEqual([true, false]);
    ways.ask(4, 'root');
    ways.stop();
    expect([disposals(), ways.index]).toEqual([1, null]);
    answer();
    expect(ways.ways).toEqual([]);
  });
});
