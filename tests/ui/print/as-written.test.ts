// One chorus on paper as it is written: which bars, which notes, and the signs of the form beside the notes.
import { describe, expect, it } from 'vitest';
import { defaultInstrument } from '../../../src/instrument';
import { formMarks, layoutStaff, repeatDot, type BarForm } from '../../../src/notation';
import { walk, type WalkResult } from '../../../src/pipeline';
import { asWritten, comesAgain, type WrittenMusic } from '../../../src/ui/print/as-written';
import { requestFor } from '../../pipeline/request';

const made = (text: string, choruses = 1): WalkResult => walk(requestFor(text, { choruses }));
const written = (text: string, choruses = 1): WrittenMusic => {
  const { chart, timeline, line } = made(text, choruses);
  return asWritten({ timeline: timeline!, line: line! }, chart);
};
const form = 'Key: F\nTempo: 120\n|: F6 | Gm7 C7 |1 F6 :|2 F7 || Bb7 | F6 |';

describe('a chorus as written', () => {
  it('has every bar once, in the order of the chart, with its notes as they are played first', () => {
    const { timeline, line, forms } = written(form, 3);
    const whole = made(form, 3);
    expect(timeline.bars.map(({ chartBar }) => chartBar)).toEqual([0, 1, 2, 3, 4, 5]);
    expect(forms).toHaveLength(6);
    const first = (chartBar: number): number =>
      whole.timeline!.bars.find((bar) => bar.chartBar === chartBar)!.index;
    for (const bar of timeline.bars) {
      const own = line.notes.filter(({ slot }) => slot.bar === bar.index).map(({ midi }) => midi);
      const played = whole.line!.notes.filter(({ slot }) => slot.bar === first(bar.chartBar));
      expect(own).toEqual(played.map(({ midi }) => midi));
    }
  });

  it('says where repeats and endings begin and end', () => {
    const { forms } = written(form);
    expect(forms.map(({ repeatStart }) => repeatStart)).toEqual([true, false, false, false, false, false]);
    expect(forms.map(({ repeatEnd }) => repeatEnd)).toEqual([null, null, 2, null, null, null]);
    expect(forms.map(({ ending }) => ending)).toEqual([null, null, '1.', '2.', null, null]);
    expect(forms.map(({ endingStops }) => endingStops)).toEqual([false, false, true, true, false, false]);
  });

  it('says D.C. and Fine in words', () => {
    const { forms } = written('Tempo: 120\n| C6 | G7 Fine || Am7 | D7 D.C. al Fine |');
    expect(forms.map(({ closing }) => closing)).toEqual([null, 'Fine', null, 'D.C. al Fine']);
  });

  it('is offered where something comes again within a chorus', () => {
    expect(comesAgain(made(form).timeline!)).toBe(true);
    expect(comesAgain(made('Tempo: 120\n| C6 | G7 |', 2).timeline!)).toBe(false);
  });
});

describe('the signs of the form', () => {
  const { timeline, line, forms } = written(form);
  const starts = new Set([0]);
  const options = {
    width: 687,
    instrument: defaultInstrument,
    positionNumeral: String,
    showRoles: false,
    repeatStarts: starts,
  };
  const layout = layoutStaff(timeline, line, options);
  const system = layout.systems[0]!;
  const { space } = layout;
  const marks = formMarks(system, forms, space, 12);

  it('stand clear of heads and their signs', () => {
    const reach = repeatDot.radius * space;
    const dots = marks.dots.map(({ x }) => x);
    expect(dots).toHaveLength(4);
    const heads = system.notes.map(({ x }) => x);
    for (const x of dots)
      for (const head of heads) expect(Math.abs(head - x) - reach).toBeGreaterThan(space * 0.9);
    const first = system.bars[0]!;
    expect(Math.min(...heads)).toBeGreaterThan(Math.min(...dots) + reach);
    expect(Math.min(...dots)).toBeGreaterThan(first.x);
    // Without the sign the bar begins sooner.
    const plain = layoutStaff(timeline, line, { ...options, repeatStarts: new Set<number>() });
    expect(first.startX - first.x).toBeGreaterThan(
      plain.systems[0]!.bars[0]!.startX - plain.systems[0]!.bars[0]!.x,
    );
  });

  it('lie above the system, brackets over their bars', () => {
    const [one, two] = ['1.', '2.'].map((text) => marks.texts.find((placed) => placed.text === text)!);
    expect(marks.height).toBeGreaterThan(12);
    for (const { y } of [one!, two!]) expect(y).toBeLessThan(0);
    const bar = (index: number): number => system.bars.find((placed) => placed.index === index)!.x;
    expect(one!.x).toBeGreaterThan(bar(2));
    expect(one!.x).toBeLessThan(bar(2) + 20);
    expect(two!.x).toBeGreaterThan(bar(3));
    expect(marks.brackets.match(/M/g)).toHaveLength(2);
  });

  it('need no room where there are none', () => {
    const none: BarForm = {
      ...{
        repeatStart: false,
        repeatEnd: null,
        ending: null,
        endingStops: false,
        opening: null,
        closing: null,
      },
    };
    const nothing = formMarks(
      system,
      timeline.bars.map(() => none),
      space,
      12,
    );
    expect(nothing).toEqual({ height: 0, thin: '', thick: '', dots: [], brackets: '', texts: [] });
  });
  it('say how often where it is more than twice', () => {
    const often = forms.map((one) => (one.repeatEnd === null ? one : { ...one, repeatEnd: 3 }));
    expect(formMarks(system, often, space, 12).texts.map(({ text }) => text)).toContain('×3');
  });
});
