// The computations by the names they are asked for.
import { explain, walk } from '../pipeline';
import type { Doers } from './protocol';

export const doers: Doers = {
  walk: (request) => walk(request),
  explain: ({ request, result, room }) => explain(request, result, { room }),
};
