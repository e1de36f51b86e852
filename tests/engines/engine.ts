// A browser of another engine as the tests see it: a page that is opened, pressed, typed into, printed and left.

/** Keys as WebDriver names them (W3C WebDriver, 17.4.2). */
export const keys = {
  Enter: '\uE007',
  Escape: '\uE00C',
  End: '\uE010',
  Home: '\uE011',
  ArrowDown: '\uE015',
} as const;

export interface Engine {
  readonly name: string;
  /** Resolves when the page has loaded. */
  readonly open: (url: string) => Promise<void>;
  readonly reload: () => Promise<void>;
  /** Runs the body of a function in the page; what it returns, or resolves with, must be JSON. */
  readonly run: <Result>(body: string) => Promise<Result>;
  /** Types as a person does, key by key. */
  readonly type: (text: string) => Promise<void>;
  /** Presses at a place of the page, in CSS pixels. */
  readonly pressAt: (x: number, y: number) => Promise<void>;
  /** The page as PDF; null where the engine gives none. */
  readonly print: () => Promise<Buffer | null>;
  /** Errors that the page's console was told of, where the engine says. */
  readonly errors: readonly string[];
  readonly close: () => Promise<void>;
}

/** Patience with an engine on a busy machine, in milliseconds. */
export const patience = 120_000;

export const wait = (milliseconds: number): Promise<void> =>
  new Promise((resolve) => setTimeout(resolve, milliseconds));

/** Asks until the answer is as wished. @throws Error with the last answer */
export async function until<Answer>(
  what: string,
  ask: () => Promise<Answer>,
  isRight: (answer: Answer) => boolean,
): Promise<Answer> {
  const end = Date.now() + patience;
  for (;;) {
    const answer = await ask();
    if (isRight(answer)) return answer;
    if (Date.now() > end) throw new Error(`${what}: still ${JSON.stringify(answer)}`);
    await wait(100);
  }
}

/** The actions of typing and of one press, alike in WebDriver and WebDriver BiDi. */
export const typing = (text: string): readonly object[] => [
  {
    type: 'key',
    id: 'keyboard',
    actions: [...text].flatMap((value) => [
      { type: 'keyDown', value },
      { type: 'keyUp', value },
    ]),
  },
];
export const pressing = (x: number, y: number): readonly object[] => [
  {
    type: 'pointer',
    id: 'mouse',
    parameters: { pointerType: 'mouse' },
    actions: [
      { type: 'pointerMove', x: Math.round(x), y: Math.round(y), duration: 0 },
      { type: 'pointerDown', button: 0 },
      { type: 'pointerUp', button: 0 },
    ],
  },
];
