// What the page and a worker say to each other. Plain values only: every message survives structured cloning.
import type { Explanation, WalkRequest, WalkResult } from '../pipeline';

/** A found line to be explained. */
export interface ExplainAsk {
  readonly request: WalkRequest;
  readonly result: WalkResult;
  /** Also work out elbow room, which takes longer. */
  readonly room: boolean;
}

/** What can be asked of a worker, and what it answers. */
export interface Tasks {
  readonly walk: { readonly ask: WalkRequest; readonly answer: WalkResult };
  readonly explain: { readonly ask: ExplainAsk; readonly answer: Explanation | null };
}
export type TaskName = keyof Tasks;
export type Ask<Name extends TaskName> = Tasks[Name]['ask'];
export type Answer<Name extends TaskName> = Tasks[Name]['answer'];

/** From the page. Ids rise with every message of a client. */
export type ToWorker<Name extends TaskName = TaskName> = {
  readonly [Each in Name]: { readonly task: Each; readonly id: number; readonly ask: Ask<Each> };
}[Name];

/** From the worker. */
export type FromWorker<Name extends TaskName = TaskName> =
  | { readonly kind: 'done'; readonly id: number; readonly answer: Answer<Name> }
  /** The computation ended with an error; the worker lives on. */
  | { readonly kind: 'failed'; readonly id: number; readonly message: string };

/** The computations, wherever they run. */
export type Doers = { readonly [Name in TaskName]: (ask: Ask<Name>) => Answer<Name> };

const doTask = (message: ToWorker, doers: Doers): Answer<TaskName> =>
  message.task === 'walk' ? doers.walk(message.ask) : doers.explain(message.ask);

/** Does what a message asks; used alike in the worker and on the page when there is no worker. */
export function reply(message: ToWorker, doers: Doers): FromWorker {
  try {
    return { kind: 'done', id: message.id, answer: doTask(message, doers) };
  } catch (error) {
    return {
      kind: 'failed',
      id: message.id,
      message: error instanceof Error ? error.message : String(error),
    };
  }
}
