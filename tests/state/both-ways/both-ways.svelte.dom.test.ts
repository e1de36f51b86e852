import { flushSync } from 'svelte';
import { afterEach, describe, expect, it } from 'vitest';
import { bpm } from '../../../src/music';
import { defaultHand, defaultInstrument } from '../../../src/instrument';
import { newStudy } from '../../../src/state/document';
import { Settings } from '../../../src/state/settings.svelte';
import {
  BothWaysDesk,
  defaultBothWays,
  firstPattern,
  readBothWays,
  type ConnectBothWays,
} from '../../../src/state/both-ways';
import type { BothWaysAsk } from '../../../src/worker';
import { doers } from '../../../src/worker/doers';
import { walked } from '../../pipeline/request';

const { timeline, line } = walked('Key: Eb\n| Ebmaj7 | Fm7 Bb7 |\n', { choruses: 2 });
const stops: (() => void)[] = [];
afterEach(() => {
  for (const stop of stops.splice(0)) stop();
});
const shelf = (): Storage => {
  const kept = new Map<string, string>();
  return {
    getItem: (key: string) => kept.get(key) ?? null,
    setItem: (key: string, value: string) => void kept.set(key, value),
  } as Storage;
};

/** Answers at once, as a worker does in its own time: every message is cloned. */
const atOnce: ConnectBothWays = (onanswer) => ({
  request: (ask) => {
    const answer = doers.bothWays(structuredClone(ask), () => undefined);
    onanswer({ ask, answer: structuredClone(answer), isLatest: true });
  },
  cancel: () => undefined,
  dispose: () => undefined,
});

function bench(storage: Storage | null = null, connect: ConnectBothWays = atOnce): BothWaysDesk {
  const desk = {
    study: newStudy('| Ebmaj7 |'),
    shown: { timeline, line },
    instrument: defaultInstrument,
    hand: defaultHand,
    title: 'Two bars',
  };
  const made = new BothWaysDesk(desk, new Settings(storage), () => bpm(120), connect);
  // As the page does, for as long as the test lasts.
  stops.push(
    $effect.root(() => {
      $effect(() => {
        made.work();
      });
    }),
  );
  flushSync();
  return made;
}

describe('the bench of given lines', () => {
  it('shows the walk as it stands beside the usual way, over the same bars and chords', () => {
    const { ways, title } = bench();
    expect(title).toBe('Two bars');
    expect(ways!.open.line).toBe(line);
    expect(ways!.usual.timeline).toEqual(timeline);
    const usual = ways!.usual.line!;
    expect(usual.notes.map(({ midi }) => midi)).toEqual(line.notes.map(({ midi }) => midi));
    expect(usual.notes.map(({ bar, beat }) => [bar, beat])).toEqual(
      line.notes.map(({ bar, beat }) => [bar, beat]),
    );
    expect(usual.report.byRegion.find(({ region }) => region === 'low')!.share).toBeGreaterThanOrEqual(
      line.report.byRegion.find(({ region }) => region === 'low')!.share,
    );
  });

  it('has the B flat scale without half position in one act: the open way never leaves III½', () => {
    const one = bench();
    flushSync(() => {
      one.change(firstPattern);
    });
    expect(one.title).toBe('B♭ major, one octave, up and down');
    expect(one.reports.open!.byPosition.map(({ numeral }) => numeral)).toEqual(['III½']);
    expect(one.reports.usual!.byPosition.map(({ numeral }) => numeral)).toEqual(['half']);
  });

  it('fingers notes of one’s own and says at which word it cannot read', () => {
    const one = bench();
    flushSync(() => {
      one.change({ source: 'own', own: 'Bb1 C2 D2' });
    });
    expect(one.ways!.open.line!.notes).toHaveLength(3);
    flushSync(() => {
      one.change({ own: 'Bb1 H2' });
    });
    expect(one.problems[0]!.message).toContain('H2');
    flushSync(() => {
      one.change({ own: ' ' });
    });
    expect(one.ways).toBeNull();
    expect(one.problems).toEqual([]);
  });

  it('keeps the ways that were found, marked stale, until the next are there; what came too late is not shown', () => {
    const asked: BothWaysAsk[] = [];
    let told: Parameters<ConnectBothWays> | null = null;
    let isEnded = false;
    const one = bench(null, (...args) => {
      told = args;
      return {
        request: (ask) => void asked.push(ask),
        cancel: () => undefined,
        dispose: () => (isEnded = true),
      };
    });
    const answer = (index: number): void =>
      told![0]({
        ask: asked[index]!,
        answer: doers.bothWays(asked[index]!, () => undefined),
        isLatest: true,
      });
    expect([one.isStale, one.ways]).toEqual([true, null]);
    answer(0);
    expect(one.isStale).toBe(false);
    const { ways } = one;
    flushSync(() => {
      one.change({ source: 'own', own: 'F1 G1 A1' });
    });
    expect([one.isStale, one.ways]).toEqual([true, ways]);
    answer(0);
    expect(one.isStale).toBe(true);
    answer(1);
    expect(one.isStale).toBe(false);
    expect(one.ways!.open.line!.notes).toHaveLength(3);
    flushSync(() => {
      one.change({ own: 'F1 G1' });
    });
    told![1]('out of memory');
    expect([one.failure, one.isStale]).toEqual(['out of memory', false]);
    one.close();
    expect(isEnded).toBe(true);
  });

  it('fingers own notes in their own key and meter, under their own title', () => {
    const one = bench();
    flushSync(() => {
      one.change({
        source: 'own',
        own: 'F1 A1 C2 F2',
        ownTitle: 'Three',
        ownKey: 'F major',
        ownMeter: '3/4',
      });
    });
    expect(one.title).toBe('Three');
    const { timeline: bars } = one.ways!.open;
    expect(bars!.bars.map(({ meter }) => meter.beats)).toEqual([3, 3]);
    expect(bars!.key.tonic).toBe('F');
    expect(readBothWays({ ownKey: 'H major', ownMeter: '9/3', ownTitle: 7 })).toEqual(defaultBothWays);
  });

  it('lays the fingers of a file beside both ways until its notes are typed over', () => {
    const one = bench();
    const none = { string: null, finger: null, otherFingers: [] };
    flushSync(() => {
      one.change({
        source: 'own',
        own: 'A1 C2 D2 E2',
        ownPrinted: [
          { string: 3, finger: '0', otherFingers: [] },
          { string: null, finger: '1', otherFingers: ['2'] },
          none,
          { string: 4, finger: null, otherFingers: [] },
        ],
      });
    });
    const { written, usual, open } = one.ways!;
    expect(written.map(({ index, isAsUsual }) => [index, isAsUsual])).toEqual([
      [0, true],
      [1, usual.line!.notes[1]!.placement.finger === '1'],
      [3, false],
    ]);
    expect(written.map((note) => [note.usual, note.open])).toEqual(
      [0, 1, 3].map((index) => [usual.line!.notes[index]!.placement, open.line!.notes[index]!.placement]),
    );
    flushSync(() => {
      one.change({ own: 'A1 C2 D2 E2 F2' });
    });
    expect(one.ways!.written).toEqual([]);
    expect(readBothWays({ ownPrinted: [{ string: 9, finger: '5' }] })).toEqual(defaultBothWays);
  });

  it('says in words why a pattern cannot be', () => {
    const one = bench();
    const pattern = { ...defaultBothWays.pattern, reach: 'two octaves', octaveUp: 3 } as const;
    flushSync(() => {
      one.change({ source: 'pattern', pattern: { ...pattern, tonic: defaultBothWays.pattern.tonic } });
    });
    expect(one.refused ?? one.title).not.toBe('');
  });

  it('lies there again after a reload, and anything wrong in it is at its default', () => {
    const storage = shelf();
    flushSync(() => {
      bench(storage).change({ source: 'own', own: 'F1 A1' });
    });
    expect(bench(storage).wish).toMatchObject({ source: 'own', own: 'F1 A1' });
    expect(readBothWays({ source: 'elsewhere', pattern: { tonic: 'H' }, withoutHalf: 3, own: 7 })).toEqual(
      defaultBothWays,
    );
    expect(readBothWays(null)).toEqual(defaultBothWays);
  });
});
