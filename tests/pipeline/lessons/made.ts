// Lessons for tests: a chart, a layer, a ground, and the faults that the independent checker finds in them.
import {
  makeLesson,
  type LayerId,
  type GroundId,
  type Lesson,
  type Caches,
  type Line,
  type WalkRequest,
} from '../../../src/pipeline';
import { requestFor } from '../request';
import { layerFaults } from '../../checks/layer-rules';

export interface LessonOf {
  readonly layer: LayerId;
  readonly ground?: GroundId;
  readonly before?: Line | null;
  readonly changes?: Partial<WalkRequest>;
  readonly caches?: Caches;
}

export const lessonOf = (
  text: string,
  { layer, ground = 'anywhere', before, changes, caches }: LessonOf,
): Lesson => makeLesson(requestFor(text, changes), { layer, ground }, before ?? null, caches);

/** The line, or the test fails in words. */
export function lineOf(lesson: Lesson): Line {
  if (!lesson.line) throw new Error(`no line: ${lesson.impossible?.message}`);
  return lesson.line;
}

/** In words, what the line of a lesson breaks of its layer. */
export const faultsOf = (lesson: Lesson): readonly string[] =>
  layerFaults(lesson.layer, lineOf(lesson).notes).map(
    ({ bar, beat, rule, found }) => `${lesson.layer}: ${rule} ${bar}.${beat} ${found}`,
  );
