// What the page and the worker say to each other. Plain values only: every message survives structured cloning.
import type { WalkRequest, WalkResult } from '../pipeline';

/** From the page. */
export interface WalkMessage {
  readonly kind: 'walk';
  /** Rises with every request. */
  readonly id: number;
  readonly request: WalkRequest;
}
export type ToWorker = WalkMessage;

/** From the worker. */
export type FromWorker =
  | { readonly kind: 'walked'; readonly id: number; readonly result: WalkResult }
  /** The computation ended with an error; the worker lives on. */
  | { readonly kind: 'failed'; readonly id: number; readonly message: string };

/** The computation, wherever it runs. */
export type Walk = (request: WalkRequest) => WalkResult;

/** Does what a message asks and answers it; used alike in the worker and on the page when there is no worker. */
export function answer(message: ToWorker, walk: Walk): FromWorker {
  try {
    return { kind: 'walked', id: message.id, result: walk(message.request) };
  } catch (error) {
    return {
      kind: 'failed',
      id: message.id,
      message: error instanceof Error ? error.message : String(error),
    };
  }
}
