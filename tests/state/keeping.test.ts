import { describe, expect, it } from 'vitest';
import { barNumber, soundingMidi } from '../../src/music';
import { newStudy } from '../../src/state/document';
import * as verbs from '../../src/state/document';
import { envelop, restore } from '../../src/state/envelope';
import * as keeping from '../../src/state/keeping';
import { keptFromText, keptToText } from '../../src/state/kept-text';
import { linkFragment, readFragment, safeLinkLength } from '../../src/state/links';
import { requestOf } from '../../src/state/request';
import { keptOf, walk, type KeptBar } from '../../src/pipeline';
import { handPosition, type StringNumber } from '../../src/instrument';
import { chartText } from '../pipeline/request';
import { makeLine, makeTimeline } from './fixtures';

const timeline = makeTimeline(4);
const kept = keptOf(makeLine(timeline), timeline);
const study = newStudy('| F7 | F7 | F7 | F7 |', { kept });

describe('kept notes as text', () => {
  it('come back as they were, in a few characters a note', () => {
    const { line, timeline: played } = walk(
      requestOf(newStudy(chartText('back-stairs-blues.txt'), { density: 1, choruses: 2 })),
    );
    const bars = keptOf(line!, played!, [barNumber(3)]).map((bar): KeptBar =>
      bar.bar === 5 ? { ...bar, hold: 'free' } : bar,
    );
    const text = keptToText(bars);
    expect(keptFromText(text)).toEqual(bars);
    expect(text.bars.length).toBeLessThan(line!.notes.length * 8);
  });

  it('keep what the bars were made for, and gaps between bars', () => {
    const bars = keeping.withMarks([kept[1]!, kept[3]!], ['a', 'b "', 'c', 'd']);
    expect(keptFromText(keptToText(bars))).toEqual(bars);
  });

  it.each(['A', 'AAA;;3:AAA;2:AAA', '$$$', 'AAA(', `${'AAA;'.repeat(5_000)}`])('refuse %j', (bars) => {
    expect(keptFromText({ strings: {}, bars })).toBeUndefined();
  });
});

describe('versions of a study', () => {
  it('version 1 comes back with nothing kept and is whole', () => {
    const { study: fields } = envelop(newStudy('| C |'));
    const since = ['kept', 'stars', 'redraws', 'feel', 'density', 'ending', 'shares', 'relaxedOnly'];
    const old = Object.fromEntries(Object.entries(fields).filter(([name]) => !since.includes(name)));
    const restored = restore({ format: 'ramble-study', version: 1, study: old });
    expect(restored).toEqual({ ok: true, study: newStudy('| C |'), replaced: [] });
  });

  it('version 2 keeps notes, locks, starred takes and every limit', () => {
    const whole = keeping.starTake(
      keeping.toggleLocked(
        newStudy('| F7 |', {
          kept,
          redraws: 3,
          feel: 'bossa',
          density: 0.3,
          ending: 'final',
          barredStrings: [4 as StringNumber],
          highestStop: 7,
          relaxedOnly: true,
          shares: [{ region: 'low', share: 0.1 }],
          pins: [{ bar: barNumber(1), beat: 2, role: 'root' }],
        }),
        barNumber(2),
        barNumber(2),
      ),
      'mine',
    );
    expect(restore(structuredClone(envelop(whole)))).toEqual({ ok: true, study: whole, replaced: [] });
  });

  it('broken kept notes are left out and named', () => {
    const { study: fields } = envelop(study);
    for (const broken of [
      { strings: { 1: 900 }, bars: 'AAA' },
      { bars: 'A' },
      7,
      { strings: {}, bars: 'A;A' },
    ]) {
      const restored = restore({ format: 'ramble-study', version: 2, study: { ...fields, kept: broken } });
      expect(restored).toMatchObject({ ok: true, replaced: ['kept'], study: { kept: [] } });
    }
  });
});

describe('links', () => {
  const lengthOf = (bars: number): number => {
    const chords = ['F7', 'Bb7', 'Am7b5 D7', 'Gm7 C7', 'Ebmaj7', 'Abm7 Db7', 'Gbmaj7', 'C7alt'];
    const lines = Array.from(
      { length: bars / 4 },
      (_, line) =>
        `| ${Array.from({ length: 4 }, (_, bar) => chords[(line * 4 + bar * 3) % chords.length]).join(' | ')} |`,
    );
    const text = `Title: Measured\nKey: F\n${lines.join('\n')}`;
    const plain = newStudy(text);
    const result = walk(requestOf(plain));
    const shown = { ...plain, kept: keptOf(result.line!, result.timeline!) };
    const reading = readFragment(linkFragment(shown));
    expect(reading).toEqual({ kind: 'study', study: shown, replaced: [] });
    return linkFragment(shown).length;
  };

  it('with every note stay short: 32 and 64 bars', () => {
    const lengths = [lengthOf(32), lengthOf(64)];
    expect(lengths[0]).toBeLessThan(1_000);
    expect(lengths[1]).toBeLessThan(safeLinkLength);
  });

  it('leave starred takes at home', () => {
    const starred = keeping.starTake(study, 'mine');
    expect(readFragment(linkFragment(starred))).toMatchObject({ kind: 'study', study: { stars: [] } });
  });
});

describe('acts on bars', () => {
  it('lock, unlock and redraw leave the rest alone', () => {
    const locked = keeping.toggleLocked(study, barNumber(2), barNumber(3));
    expect(keeping.lockedBars(locked)).toEqual([2, 3]);
    expect(keeping.lockedBars(keeping.toggleLocked(locked, barNumber(1), barNumber(2)))).toEqual([1, 2, 3]);
    expect(
      keeping.toggleLocked(
        keeping.toggleLocked(study, barNumber(2), barNumber(3)),
        barNumber(2),
        barNumber(3),
      ),
    ).toEqual(study);
    const drawn = keeping.redrawBars(locked, barNumber(1), barNumber(2));
    expect(drawn.kept.map(({ hold }) => hold)).toEqual(['free', 'locked', 'locked', undefined]);
    expect(drawn.redraws).toBe(1);
    expect(keeping.redrawBars(locked, barNumber(2), barNumber(3))).toBe(locked);
  });

  it('a new take lets go of all but locked bars; another key lets go of them, too', () => {
    const locked = keeping.redrawBars(
      keeping.toggleLocked(study, barNumber(2), barNumber(2)),
      barNumber(1),
      barNumber(1),
    );
    const take = verbs.newTake(locked);
    expect(take.kept.map(({ bar }) => bar)).toEqual([2]);
    expect(take.redraws).toBe(0);
    expect(verbs.setPlain(locked, 'comfort', 2).kept).toHaveLength(1);
    expect(verbs.toggleBarred(locked, handPosition(1)).kept).toBe(locked.kept);
    expect(verbs.setKey(locked, { tonic: 'C' as never, mode: 'major', fifths: 0 }).kept).toEqual([]);
  });

  it('a kept bar in conflict is let go by one act', () => {
    const locked = keeping.toggleLocked(study, barNumber(2), barNumber(2));
    const source = { kind: 'limit', limit: 'kept bar', bar: barNumber(2) } as const;
    expect(keeping.lockedBars(verbs.giveUp(locked, { words: '', source: source }))).toEqual([]);
  });
});

describe('starred takes', () => {
  it('are kept with their notes, renamed, played again, removed', () => {
    const starred = keeping.starTake(study, ' First ');
    expect(starred.stars).toMatchObject([{ name: 'First', seed: 1 }]);
    const later = { ...starred, seed: 5, kept: [] };
    expect(keeping.openStar(later, 0)).toMatchObject({ seed: 1, kept });
    expect(keeping.renameStar(later, 0, 'Best').stars[0]?.name).toBe('Best');
    expect(keeping.renameStar(later, 0, '  ')).toBe(later);
    expect(keeping.removeStar(later, 0).stars).toEqual([]);
    expect(keeping.removeStar(later, 4)).toBe(later);
  });
});

describe('limits', () => {
  it('reach the request, and each is given up by one act', () => {
    const limited = newStudy('| C |', {
      barredStrings: [1 as StringNumber],
      lowest: soundingMidi(30),
      highest: soundingMidi(50),
      highestStop: 5,
      relaxedOnly: true,
      shares: [{ region: 'low', share: 0.2 }],
    });
    const { limits } = requestOf(limited);
    expect(limits).toMatchObject({
      barredStrings: [1],
      lowest: 30,
      highest: 50,
      highestStop: 5,
      relaxedOnly: true,
      shares: [{ region: 'low', share: 0.2 }],
    });
    const names = [
      'barred string',
      'lowest note',
      'highest note',
      'highest stop',
      'relaxed only',
      'share',
    ] as const;
    const free = names.reduce(
      (now, limit) => verbs.giveUp(now, { words: '', source: { kind: 'limit', limit } }),
      limited,
    );
    expect(requestOf(free).limits).toEqual({ barredPositions: [] });
    expect(verbs.liftLimits(limited)).toEqual(newStudy('| C |'));
  });
});
