// The browser's audio context: whether it may sound, and whether its clock really runs.

/** How long a refused resume is waited for; it may never settle. Milliseconds. */
const wakeTime = 1_000;
/** A clock that stands still for longer than this is stuck. Milliseconds. */
export const stillTime = 300;
const checkEvery = 20;
const watchEvery = 100;

export type Waking = 'awake' | 'blocked' | 'stuck';

const wait = (milliseconds: number): Promise<void> =>
  new Promise((resolve) => setTimeout(resolve, milliseconds));

/** A new context, null where the browser has none or refuses. Call it in the person's gesture. */
export function makeContext(): AudioContext | null {
  try {
    return new AudioContext({ latencyHint: 'interactive' });
  } catch {
    return null;
  }
}

/** Asks for sound; must be called in the gesture itself, before anything is awaited. */
export async function resume(context: AudioContext): Promise<void> {
  try {
    await Promise.race([context.resume(), wait(wakeTime)]);
  } catch {
    // The state says what came of it.
  }
}

/** Some browsers say "running" while the clock stands still: only a clock that moves is believed. */
async function clockMoves(context: BaseAudioContext): Promise<boolean> {
  const before = context.currentTime;
  for (let waited = 0; waited < stillTime; waited += checkEvery) {
    await wait(checkEvery);
    if (context.currentTime > before) return true;
  }
  return false;
}

/** What came of asking. `resumed`: the promise that `resume` gave in the gesture. */
export async function waking(context: AudioContext, resumed: Promise<void>): Promise<Waking> {
  await resumed;
  if (context.state !== 'running') return 'blocked';
  return (await clockMoves(context)) ? 'awake' : 'stuck';
}

export interface Troubles {
  /** A call, a locked screen, a device taken away. */
  readonly onInterrupted: () => void;
  readonly onStuck: () => void;
}

/** Watches a playing context; returns a way to stop watching. */
export function watchContext(context: AudioContext, { onInterrupted, onStuck }: Troubles): () => void {
  let lastTime = context.currentTime;
  let movedAt = performance.now();
  let checkedAt = movedAt;
  const check = (): void => {
    const now = performance.now();
    // After a pause of the page itself, the clock gets a fresh chance.
    if (context.currentTime > lastTime || now - checkedAt > 2 * stillTime) movedAt = now;
    lastTime = context.currentTime;
    checkedAt = now;
    if (now - movedAt > stillTime) onStuck();
  };
  const changed = (): void => {
    if (context.state !== 'running') onInterrupted();
  };
  const timer = setInterval(check, watchEvery);
  context.addEventListener('statechange', changed);
  return () => {
    clearInterval(timer);
    context.removeEventListener('statechange', changed);
  };
}

/** Tells now and from now on whether the page is hidden; returns a way to stop. */
export function watchHidden(tell: (isHidden: boolean) => void): () => void {
  const changed = (): void => {
    tell(document.visibilityState === 'hidden');
  };
  document.addEventListener('visibilitychange', changed);
  changed();
  return () => {
    document.removeEventListener('visibilitychange', changed);
  };
}
