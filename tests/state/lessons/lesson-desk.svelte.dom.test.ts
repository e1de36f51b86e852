// Lessons asked for from the drawer, and the sheet they lie on: the study stays as it is, whatever is laid over it.
import { describe, expect, it } from 'vitest';
import type { HandPosition } from '../../../src/instrument';
import { parseKey } from '../../../src/music';
import { LessonSheet, newStudy, Studio, type LessonNames, type Study } from '../../../src/state';
import { layerBefore, layKey, LessonDesk, type ConnectLessons } from '../../../src/state/lessons';
import type { Answered, Ask, OnProgress } from '../../../src/worker';
import { makeDoers } from '../../../src/worker/doers';
import { chartText } from '../../pipeline/request';
import { HandExplainer, HandSource } from '../fixtures';

const text = 'Key: F\n| F7 | Bb7 |';

function desk(chart = text) {
  const doers = makeDoers();
  const source = new HandSource();
  const told: { lessons: LessonNames[]; changes: Study[] } = { lessons: [], changes: [] };
  const studio = new Studio({
    study: newStudy(chart),
    connect: source.connect,
    connectExplainer: new HandExplainer().connect,
    now: () => 0,
    onlesson: (lesson) => void told.lessons.push(lesson),
    onchange: (study) => void told.changes.push(study),
  });
  const request = source.asks.at(-1)!;
  source.onanswer({ ask: request, answer: doers.walk(request, () => undefined), isLatest: true });
  let answer: () => void = () => undefined;
  let fail: () => void = () => undefined;
  let disposals = 0;
  /** Computes when told to, as the worker does by itself. */
  const connect =
    <Name extends 'lesson' | 'round' | 'carry'>(task: Name) =>
    (
      onanswer: (answered: Answered<Name>) => void,
      onfailure: (message: string) => void,
      onprogress?: OnProgress,
    ) => ({
      request: (ask: Ask<Name>) => {
        answer = () => {
          onanswer({ ask, answer: doers[task](ask, onprogress ?? (() => undefined)), isLatest: true });
        };
        fail = () => onfailure('broken');
      },
      dispose: () => void disposals++,
    });
  const lessons: ConnectLessons = {
    lesson: connect('lesson'),
    round: connect('round'),
    carry: connect('carry'),
  };
  const sheet = new LessonSheet(studio);
  return {
    studio,
    told,
    line: source,
    sheet,
    desk: new LessonDesk(studio, sheet, lessons),
    answer: () => answer(),
    fail: () => fail(),
    disposals: () => disposals,
  };
}

describe('a lesson on the sheet', () => {
  it('lies in place of the line, both sides to be seen, and gives the study back as it was', () => {
    const { studio, sheet, desk: lessons, answer } = desk();
    const { study, shown } = studio;
    lessons.make('below', 'block', 'frame');
    expect(lessons.work).toBe('lesson');
    answer();
    expect([lessons.work, lessons.trouble]).toEqual([null, null]);
    const open = sheet.open!;
    expect(open.name).toBe('Lean below on Block');
    expect(studio.shown!.line).toBe(open.after.line);
    const before = open.before!.of.line.notes;
    const changed = open.after.line.notes.flatMap(({ midi, index }) =>
      midi === before[index]!.midi ? [] : [index],
    );
    expect(open.changed).toEqual(changed);
    expect(sheet.marked).toEqual(changed);
    sheet.show('before');
    expect([studio.shown!.line, sheet.marked]).toEqual([open.before!.of.line, []]);
    sheet.leave();
    expect([studio.study, studio.shown, sheet.open]).toEqual([study, shown, null]);
  });

  it('gives way to a change of the study, which is made as ever', () => {
    const { studio, sheet, desk: lessons, answer } = desk();
    lessons.make('frame', 'anywhere', null);
    answer();
    expect([sheet.open!.before, studio.isLesson]).toEqual([null, true]);
    studio.setChartText('| C7 |');
    expect([studio.isLesson, sheet.open]).toEqual([false, null]);
    expect(studio.study.chartText).toBe('| C7 |');
  });

  it('lets no note of it be pinned into the study', () => {
    const { studio, desk: lessons, answer } = desk();
    lessons.make('frame', 'anywhere', null);
    answer();
    const { study } = studio;
    studio.select(2);
    studio.pin(2);
    expect(studio.study).toBe(study);
  });

  it('says why there is none, and that the work broke', () => {
    const {
      desk: lessons,
      sheet,
      answer,
      fail,
    } = desk('Key: D minor\nMeter: 3/4\n\n| Dm7 | A7 | Gm7 | A7 |');
    lessons.make('run', 'anywhere', null);
    answer();
    expect(lessons.trouble!.kind).toBe('impossible');
    expect(lessons.trouble!.message).toMatch(/Run asks for/);
    expect(sheet.open).toBeNull();
    lessons.make('frame', 'anywhere', null);
    fail();
    expect([lessons.trouble!.kind, lessons.work]).toEqual(['failed', null]);
  });

  it('is remembered by the study, left and laid again, each a step that can be undone', () => {
    const { studio, sheet, desk: lessons, answer, told, line } = desk();
    const own = studio.shown!.line;
    const names = { layer: 'below', ground: 'block', from: 'frame' } as const;
    lessons.make('below', 'block', 'frame');
    answer();
    expect([studio.study.lesson, told.changes.at(-1)!.lesson]).toEqual([names, names]);
    const { notes } = sheet.open!.after.line;
    studio.undo();
    expect([studio.study.lesson, sheet.open, studio.shown!.line]).toEqual([null, null, own]);
    studio.redo();
    expect(told.lessons).toEqual([names]);
    lessons.reopen(told.lessons[0]!, () => expect.fail('there is such a lesson'));
    answer();
    expect(sheet.open!.after.line.notes).toEqual(notes);
    sheet.leave();
    expect([studio.study.lesson, sheet.open, studio.shown!.line]).toEqual([null, null, own]);
    studio.undo();
    expect(told.lessons).toEqual([names, names]);
    // Nothing of this had the line worked out anew.
    expect(line.asks).toHaveLength(1);
  });

  it('comes back with a step that took it away, and with its study', () => {
    const { studio, desk: lessons, answer, told } = desk();
    lessons.make('frame', 'anywhere', null);
    answer();
    const saved = studio.study;
    studio.newTake();
    expect(studio.study.lesson).toBeNull();
    studio.undo();
    expect([studio.study.lesson, told.lessons]).toEqual([saved.lesson, [saved.lesson]]);
    studio.open(newStudy('| C7 |'));
    expect(told.lessons).toHaveLength(1);
    studio.open(saved);
    expect(told.lessons).toEqual([saved.lesson, saved.lesson]);
  });

  it('stays over another tempo and another hand: it is made again, says what became other, and undo goes back', () => {
    const { studio, sheet, told, desk: lessons, answer } = desk(chartText('back-stairs-blues.txt'));
    lessons.make('below', 'anywhere', 'frame');
    answer();
    const slow = studio.shown!.line;
    const again = (): void => {
      lessons.reopen(told.lessons.at(-1)!, () => expect.fail('it can be made'));
      expect([studio.isLesson, sheet.isRemade]).toEqual([true, true]);
      answer();
      expect(sheet.isRemade).toBe(false);
    };
    sheet.show('before');
    studio.set('tempo', 260);
    expect([studio.isLesson, studio.study.lesson]).toEqual([true, sheet.open!.names]);
    again();
    expect([sheet.side, sheet.open!.after.timeline.tempo]).toEqual(['before', 260]);
    sheet.show('after');
    const fast = studio.shown!.line;
    const { notes, fingers } = sheet.open!.again!;
    const differing = fast.notes.filter(({ midi }, index) => midi !== slow.notes[index]!.midi);
    expect(notes).toBe(differing.length);
    expect(notes + fingers).toBeGreaterThan(0);
    studio.setBarred([1 as HandPosition]);
    again();
    studio.undo();
    again();
    studio.undo();
    again();
    expect(studio.shown!.line.notes.map(({ midi }) => midi)).toEqual(slow.notes.map(({ midi }) => midi));
    studio.undo();
    expect([studio.isLesson, studio.study.lesson]).toEqual([false, null]);
  });

  it.each([
    ['another take', (studio: Studio) => studio.newTake()],
    ['other changes', (studio: Studio) => studio.setChartText('| C7 |')],
    ['another feel', (studio: Studio) => studio.set('feel', 'bossa')],
    ['a pin', (studio: Studio) => studio.unpinAll()],
  ])('%s: leaves the sheet where another question is put', (what, change) => {
    const { studio, desk: lessons, answer } = desk();
    lessons.make('frame', 'anywhere', null);
    answer();
    change(studio);
    // Nothing was pinned: that is no change.
    expect(studio.isLesson).toBe(what === 'a pin');
  });

  it('is not laid over a study that has come to the desk meanwhile, and says when it cannot be made', () => {
    const { studio, sheet, desk: lessons, answer, fail } = desk();
    let troubles = 0;
    const names = { layer: 'frame', ground: 'anywhere', from: null } as const;
    studio.open(newStudy(text, { lesson: names }));
    lessons.reopen(names, () => troubles++);
    studio.open(newStudy('| C7 |'));
    answer();
    expect([sheet.open, troubles]).toEqual([null, 0]);
    studio.open(newStudy(text, { lesson: names }));
    lessons.reopen(names, () => troubles++);
    fail();
    expect([sheet.open, troubles]).toEqual([null, 1]);
  });

  it('of a round has no names to be remembered by', () => {
    const { studio, sheet, desk: lessons, answer } = desk();
    lessons.make('frame', 'anywhere', null);
    answer();
    lessons.makeRound('ground', 'fourths');
    answer();
    layKey(sheet, sheet.round!.round.keys[2]!, 'E flat');
    expect([studio.isLesson, studio.study.lesson]).toEqual([true, null]);
    // Slower it stays as it is; another hand is another line.
    studio.set('tempo', 80);
    expect([studio.isLesson, sheet.open!.name.startsWith('E flat')]).toEqual([true, true]);
    studio.set('span', 160);
    expect(studio.isLesson).toBe(false);
  });

  it('can be stopped', () => {
    const { desk: lessons, disposals } = desk();
    lessons.make('frame', 'anywhere', null);
    lessons.stop();
    expect([lessons.work, disposals()]).toEqual([null, 1]);
  });
});

describe('a round from the drawer', () => {
  it('tells how far it has come, lists twelve keys, and opens any of them', () => {
    const { studio, sheet, desk: lessons, answer } = desk();
    lessons.makeRound('ground', 'fourths');
    expect(lessons.progress).toBe(0);
    answer();
    expect(sheet.round!.round.keys).toHaveLength(12);
    expect(sheet.round!.of).toBe(studio.study);
    const third = sheet.round!.round.keys[2]!;
    layKey(sheet, third, 'E flat');
    expect(studio.shown!.line).toBe(third.lesson.line);
    expect(sheet.open!.name).toMatch(/^E flat: Ground on /);
  });
});

describe('this line in another key', () => {
  it('lies beside the study’s own', () => {
    const { studio, sheet, desk: lessons, answer } = desk();
    const own = studio.shown!.line;
    lessons.carry(
      parseKey('G')!,
      ({ moved, fingers }) => ({ name: `${moved}`, says: `${fingers.length}` }),
      'Your line',
    );
    answer();
    // The next of the key's two neighbours, by where the line lies.
    const moved = Number(sheet.open!.name);
    expect([2, -10]).toContain(moved);
    expect(sheet.open!.before!.of.line).toBe(own);
    expect(studio.shown!.line.notes.map(({ midi }) => midi)).toEqual(
      own.notes.map(({ midi }) => midi + moved),
    );
    sheet.leave();
    expect(studio.shown!.line).toBe(own);
  });
});

it('knows the layer taught before another', () => {
  expect([layerBefore('ground'), layerBefore('below')]).toEqual([null, 'stairs']);
});
