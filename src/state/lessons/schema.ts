// What lessons keep on this device, read back: anything missing or wrong is at its usual value.
import * as v from 'valibot';
import { layerIds } from '../../pipeline';
import type { CardRecord } from './cards';
import { usualCardSettings } from './cards';
import { dayMinutes, dayPartIds, usualDay, type DayPartId } from './day';

const day = v.pipe(v.string(), v.regex(/^\d{4}-\d{2}-\d{2}$/));
const count = v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(1_000_000));

const record: v.GenericSchema<unknown, CardRecord> = v.object({
  id: v.pipe(v.string(), v.maxLength(100)),
  streak: count,
  due: day,
  asked: count,
  had: count,
});

const layer = v.object({ id: v.picklist(layerIds), day });
const passes = v.object({ day, clean: count, all: count });
/** Passes of a day. */
export type DayPasses = Readonly<v.InferOutput<typeof passes>>;

export const lessonRange = {
  returns: { least: 1, most: 365 },
  newADay: { least: 0, most: 50 },
  minutes: dayMinutes,
  part: { least: 0, most: 60 },
} as const;

const within = ({
  least,
  most,
}: {
  readonly least: number;
  readonly most: number;
}): v.GenericSchema<number> => v.pipe(v.number(), v.integer(), v.minValue(least), v.maxValue(most));

const partMinutes = (id: DayPartId): v.GenericSchema<unknown, number> =>
  v.fallback(within(lessonRange.part), usualDay.parts[id]);

export const lessonsSchema = v.object({
  records: v.fallback(v.pipe(v.array(record), v.maxLength(1000)), []),
  fresh: v.fallback(v.object({ day, count }), { day: '2000-01-01', count: 0 }),
  passes: v.fallback(v.pipe(v.array(passes), v.maxLength(400)), []),
  /** Layers practised, each with the day of its first clean pass. */
  layers: v.fallback(v.pipe(v.array(layer), v.maxLength(layerIds.length)), []),
  /** Layers that were put off, each with the day. */
  putOff: v.fallback(v.pipe(v.array(layer), v.maxLength(layerIds.length)), []),
  order: v.fallback(v.picklist(['blocks', 'mixed']), 'blocks'),
  returns: v.fallback(v.pipe(v.array(within(lessonRange.returns)), v.minLength(1), v.maxLength(8)), [
    ...usualCardSettings.returns,
  ]),
  newADay: v.fallback(within(lessonRange.newADay), usualCardSettings.newADay),
  minutes: v.fallback(within(lessonRange.minutes), usualDay.minutes),
  parts: v.fallback(
    v.object(
      Object.fromEntries(dayPartIds.map((id) => [id, partMinutes(id)])) as Record<
        DayPartId,
        v.GenericSchema<unknown, number>
      >,
    ),
    { ...usualDay.parts },
  ),
});
export type LessonValues = Readonly<v.InferOutput<typeof lessonsSchema>>;

export const usualLessons: LessonValues = v.parse(lessonsSchema, {});
