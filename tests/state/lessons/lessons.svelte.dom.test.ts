// What lessons keep on the device.
import { describe, expect, it } from 'vitest';
import { layerIds } from '../../../src/pipeline';
import { cardId, Lessons } from '../../../src/state/lessons';
import { lessonsKey } from '../../../src/state/lessons/lessons.svelte';

function memory(first: string | null = null): Pick<Storage, 'getItem' | 'setItem'> & { text: string | null } {
  return {
    text: first,
    getItem(key) {
      return key === lessonsKey ? this.text : null;
    },
    setItem(_key, text) {
      this.text = text;
    },
  };
}

describe('lessons', () => {
  it('deal five new cards a day, and no more when the page is opened again', () => {
    const storage = memory();
    const first = new Lessons(storage, () => '2030-02-27');
    expect(first.cards).toHaveLength(5);
    const asked = first.cards.slice(0, 2).map(cardId);
    first.answer(true);
    first.answer(false);
    expect(first.cards).toHaveLength(3);
    const again = new Lessons(storage, () => '2030-02-27');
    expect(again.cards).toHaveLength(3);
    expect(again.cards.map(cardId)).not.toContain(asked[0]);
    expect(again.seen).toBe(2);
  });

  it('bring cards back on their day', () => {
    const storage = memory();
    const lessons = new Lessons(storage, () => '2030-02-27');
    const [had, missed] = lessons.cards;
    lessons.answer(true);
    lessons.answer(false);
    lessons.change({ newADay: 0 });
    expect(new Lessons(storage, () => '2030-02-27').cards).toEqual([]);
    const next = new Lessons(storage, () => '2030-02-28').cards.map(cardId);
    expect(next.toSorted()).toEqual([cardId(had!), cardId(missed!)].toSorted());
  });

  it('count clean passes of the day, and plan what there is', () => {
    const storage = memory();
    const lessons = new Lessons(storage, () => '2030-02-27');
    expect(lessons.plan.map(({ id }) => id)).toEqual(['anchors', 'layer', 'names', 'cards', 'stage']);
    lessons.addPass(true);
    lessons.addPass(false);
    lessons.addPass(true);
    expect(lessons.passes).toMatchObject({ clean: 2, all: 3 });
    const tomorrow = new Lessons(storage, () => '2030-02-28');
    expect(tomorrow.passes).toEqual({ clean: 0, all: 0 });
    expect(tomorrow.plan.map(({ id }) => id)).toContain('yesterday');
    expect(tomorrow.plan.reduce((sum, { minutes }) => sum + minutes, 0)).toBe(20);
  });

  it('go on to the next layer on the day after a clean pass of the last one', () => {
    const storage = memory();
    const monday = new Lessons(storage, () => '2030-02-27');
    expect(monday.layer).toBe('ground');
    monday.addPass(false, 'ground');
    monday.addPass(true);
    expect(monday.practised).toBe(0);
    expect(new Lessons(storage, () => '2030-02-28').layer).toBe('ground');
    monday.addPass(true, 'ground');
    monday.addPass(true, 'ground');
    // One new layer a day, and one that was practised out of turn does not come again.
    monday.addPass(true, 'frame');
    expect([monday.layer, monday.practised]).toEqual(['ground', 2]);
    const tuesday = new Lessons(storage, () => '2030-02-28');
    expect(tuesday.layer).toBe('pillars');
    tuesday.addPass(true, 'pillars');
    const wednesday = new Lessons(storage, () => '2030-03-01');
    expect(wednesday.layer).toBe('stairs');
    expect(wednesday.passes.all).toBe(0);
    expect(tuesday.passes).toMatchObject({ clean: 1, all: 1 });
  });

  it('put a layer off to another day: the next in turn comes, and all can be taken back', () => {
    const storage = memory();
    const lessons = new Lessons(storage, () => '2030-02-27');
    lessons.putOff('ground');
    expect([lessons.layer, lessons.hasPutOff]).toEqual(['pillars', true]);
    expect(new Lessons(storage, () => '2030-02-27').layer).toBe('pillars');
    expect(new Lessons(storage, () => '2030-02-28').layer).toBe('ground');
    for (const id of layerIds) lessons.putOff(id);
    expect(lessons.layer).toBeNull();
    // The step stays, so that the layers can be taken back.
    expect(lessons.plan.map(({ id }) => id)).toContain('layer');
    lessons.takeBack();
    expect([lessons.layer, lessons.hasPutOff]).toEqual(['ground', false]);
  });

  it('leave the step out once every layer was practised', () => {
    const storage = memory();
    const lessons = new Lessons(storage, () => '2030-02-27');
    for (const layer of layerIds) lessons.addPass(true, layer);
    const next = new Lessons(storage, () => '2030-02-28');
    expect(next.layer).toBeNull();
    expect(next.plan.map(({ id }) => id)).not.toContain('layer');
  });

  it.each([
    '',
    '{',
    '[]',
    '{"records":7,"minutes":9999,"parts":{"cards":-4},"layers":[{"id":"attic","day":"2030-02-01"}],"returns":[]}',
    'null',
  ])('take nothing from a storage that holds %s', (text) => {
    const lessons = new Lessons(memory(text), () => '2030-02-27');
    expect(lessons.values).toMatchObject({ records: [], minutes: 20, returns: [1, 3, 7] });
    expect(lessons.cards).toHaveLength(5);
    expect(lessons.layer).toBe('ground');
  });

  it('go on where storage refuses', () => {
    const refusing = {
      getItem: () => {
        throw new Error('no');
      },
      setItem: () => {
        throw new Error('no');
      },
    };
    const lessons = new Lessons(refusing, () => '2030-02-27');
    lessons.answer(true);
    expect(lessons.seen).toBe(1);
    expect(new Lessons(null, () => '2030-02-27').cards).toHaveLength(5);
  });
});
