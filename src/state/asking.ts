// How the desk has lines worked out and explained, and what it tells those around it.
import type { WalkResult } from '../pipeline';
import type { Answered, Ask, OnProgress } from '../worker';
import type { LessonNames, Study } from './document';

/** The side of a worker client that the studio uses. */
export interface Asker<Name extends 'walk' | 'explain'> {
  request(ask: Ask<Name>): void;
  /** Forgets what was asked; nothing more is answered. */
  cancel(): void;
  /** Has an ask worked out whose answer is known; nothing is answered. */
  prepare?(ask: Ask<Name>): void;
}

/** Makes an asker that answers through the functions, and tells how far a long answer has come. */
export type Connect<Name extends 'walk' | 'explain'> = (
  onanswer: (answered: Answered<Name>) => void,
  onfailure: (message: string) => void,
  onprogress?: OnProgress,
) => Asker<Name>;

export interface StudioParts {
  readonly study: Study;
  /** The answer for `study`, where it is known beforehand. */
  readonly answer?: WalkResult | null;
  readonly connect: Connect<'walk'>;
  /** Explanations come after the line, from a thread of their own. */
  readonly connectExplainer: Connect<'explain'>;
  readonly now: () => number;
  /** Called after every change of the document, undo and redo included. */
  readonly onchange?: (study: Study) => void;
  /** Called when the study has taken in the notes that are shown for it. */
  readonly onkept?: (study: Study) => void;
  /** Called when a study comes to the desk that remembers a lesson: it is made anew. */
  readonly onlesson?: (lesson: LessonNames) => void;
  /** Called when something that was to stay could not. */
  readonly onlost?: (what: 'locked bars' | 'notes') => void;
}
