// The browser's audio context: whether it may sound, and whether its clock really runs.

/** How long a resume is waited for before the person is told; it may come later, or never. Milliseconds. */
const wakeTime = 1_000;
/** A clock that stands still for longer than this is told of. Milliseconds. */
export const stillTime = 300;
/** How long a clock may take to begin to move: a busy machine is slow to open its device. */
const startTime = 2_000;
/** A clock that stands still for longer than this, while the page is alive, will not go on. */
export const deadTime = 10_000;
const checkEvery = 5;
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
  for (let waited = 0; waited < startTime; waited += checkEvery) {
    await wait(checkEvery);
    if (context.currentTime > before) return true;
  }
  return false;
}

/** Resolves when the context runs, however long that takes. */
export function running(context: AudioContext): Promise<void> {
  return new Promise((resolve) => {
    const look = (): void => {
      if (context.state !== 'running') return;
      context.removeEventListener('statechange', look);
      resolve();
    };
    context.addEventListener('statechange', look);
    look();
  });
}

/** Whether the person has done anything on this page; a browser that cannot tell is believed. */
export const hasGesture = (): boolean => {
  const { userActivation } = navigator as { readonly userActivation?: { readonly hasBeenActive: boolean } };
  return userActivation?.hasBeenActive ?? true;
};

/**
 * What came of asking.
 * @param resumed the promise that `resume` gave in the gesture
 * @param seen what the clock showed a while ago: one that has moved since runs, and nothing is waited for
 */
export async function waking(
  context: AudioContext,
  resumed: Promise<void>,
  seen = Infinity,
): Promise<Waking> {
  await resumed;
  if (context.state !== 'running') return 'blocked';
  return context.currentTime > seen || (await clockMoves(context)) ? 'awake' : 'stuck';
}

export type ClockTrouble = 'stalled' | 'interrupted';

export interface Troubles {
  /** The sound stands still, or goes on again (null): a busy machine, a device that was changed, a call. */
  readonly onTrouble: (trouble: ClockTrouble | null) => void;
  /** It will not go on by itself. */
  readonly onDead: (trouble: ClockTrouble) => void;
}

/** What a look at a clock has found. */
export interface ClockWatch {
  /** The clock, seconds, and when it last moved and was last looked at, milliseconds. */
  readonly clock: number;
  readonly movedAt: number;
  readonly checkedAt: number;
}

/** After another look; a time in which the page itself slept says nothing about the clock, and is not counted. */
export function looked(before: ClockWatch, clock: number, now: number): ClockWatch {
  if (clock > before.clock) return { clock, movedAt: now, checkedAt: now };
  const gap = now - before.checkedAt;
  const slept = gap > 2 * stillTime ? gap : 0;
  return { clock: before.clock, movedAt: before.movedAt + slept, checkedAt: now };
}

/**
 * Watches a playing context; returns a way to stop watching. A clock that stands still is told of and asked to go on; only
 * one that has stood still for long, or was closed, is given up.
 */
export function watchContext(context: AudioContext, { onTrouble, onDead }: Troubles): () => void {
  let watch: ClockWatch = {
    clock: context.currentTime,
    movedAt: performance.now(),
    checkedAt: performance.now(),
  };
  let told: ClockTrouble | null = null;
  const tell = (trouble: ClockTrouble | null): void => {
    if (trouble === told) return;
    told = trouble;
    onTrouble(trouble);
  };
  const check = (): void => {
    watch = looked(watch, context.currentTime, performance.now());
    const still = watch.checkedAt - watch.movedAt;
    if (still === 0) tell(null);
    else if (still > deadTime) onDead(told ?? 'stalled');
    else if (still > stillTime) tell(context.state === 'running' ? 'stalled' : 'interrupted');
  };
  const lost = (): void => {
    onDead('stalled');
  };
  const changed = (): void => {
    if (context.state === 'running') return;
    if (context.state === 'closed') {
      lost();
      return;
    }
    tell('interrupted');
    // A device that came back, a call that ended: no harm where it is refused.
    void resume(context);
  };
  const timer = setInterval(check, watchEvery);
  context.addEventListener('statechange', changed);
  // Browsers that have this event send it when the device is gone for good.
  context.addEventListener('error', lost);
  return () => {
    clearInterval(timer);
    context.removeEventListener('statechange', changed);
    context.removeEventListener('error', lost);
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
