import { describe, expect, it } from 'vitest';
import {
  eased,
  Glide,
  keyframesOf,
  matrixAt,
  waitOf,
  type Easing,
  type GlideKey,
} from '../../../src/ui/fingerboard/glide';
import type { Matrix } from '../../../src/ui/fingerboard/hand';

const at = (x: number, size = 1): Matrix => [size, 0, 0, size, x, 0];

describe('a timing curve', () => {
  // The curves of CSS Easing Functions Level 1: "ease" and "linear"; the middle of "ease" is 0.8024 of the way.
  const ease: Easing = [0.25, 0.1, 0.25, 1];
  it('is that of the style sheets', () => {
    expect(eased(ease, 0.5)).toBeCloseTo(0.8024, 3);
    for (const time of [0, 0.2, 0.7, 1]) expect(eased([0, 0, 1, 1], time)).toBeCloseTo(time, 5);
  });

  it('begins and ends with the way, and never goes back', () => {
    expect([eased(ease, -1), eased(ease, 0), eased(ease, 1), eased(ease, 2)]).toEqual([0, 0, 1, 1]);
    const way = Array.from({ length: 50 }, (_, step) => eased([0.45, 0, 0.3, 1], step / 49));
    expect(way).toEqual(way.toSorted((a, b) => a - b));
  });
});

describe('a way along keys', () => {
  const keys: readonly GlideKey[] = [
    { offset: 0, matrix: at(10) },
    { offset: 0.6, matrix: at(10) },
    { offset: 1, matrix: at(50, 0.5) },
  ];

  it('is still, then in between in place and size, then at its end', () => {
    expect(matrixAt(keys, 0.3)).toEqual(at(10));
    expect(matrixAt(keys, 0.8)?.map((value) => Number(value.toFixed(6)))).toEqual(at(30, 0.75));
    expect(matrixAt(keys, 1)).toEqual(at(50, 0.5));
    expect(matrixAt(keys, 7)).toEqual(at(50, 0.5));
    expect(matrixAt([], 0.5)).toBeNull();
  });

  it('is written for the browser as it is worked out', () => {
    expect(keyframesOf([{ offset: 0, matrix: at(1), easing: [0.3, 0, 0.15, 1] }])).toEqual([
      {
        offset: 0,
        transform: 'matrix(1.0000, 0.0000, 0.0000, 1.0000, 1.0000, 0.0000)',
        easing: 'cubic-bezier(0.3, 0, 0.15, 1)',
      },
    ]);
  });

  it('knows how long nothing moves', () => {
    expect(waitOf(keys)).toBe(0.6);
    expect(waitOf(keys.slice(1))).toBe(0.6);
    expect(
      waitOf([
        { offset: 0, matrix: at(1) },
        { offset: 1, matrix: at(2) },
      ]),
    ).toBe(0);
    expect(waitOf([])).toBe(0);
  });
});

describe('something that glides', () => {
  interface Sent {
    readonly frames: Keyframe[];
    readonly options: KeyframeAnimationOptions;
    currentTime: number;
    playState: AnimationPlayState;
  }

  /** An element that notes what it is told; time and state are set by hand. */
  function element(): { glide: Glide; sent: Sent[]; style: { transform: string } } {
    const sent: Sent[] = [];
    const style = { transform: '' };
    const animate = (frames: Keyframe[], options: KeyframeAnimationOptions): unknown => {
      const one = { frames, options, currentTime: 0, playState: 'running' as AnimationPlayState };
      sent.push(one);
      return Object.assign(one, { cancel: () => (one.playState = 'idle') });
    };
    return { glide: new Glide({ style, animate } as unknown as HTMLElement), sent, style };
  }
  const transformOf = (frame: Keyframe | undefined): unknown => frame?.['transform'];

  it('waits without being animated, and then moves for the rest of the time', () => {
    const { glide, sent, style } = element();
    glide.put(at(10));
    glide.send(
      [
        { offset: 0, matrix: at(10) },
        { offset: 0.75, matrix: at(10) },
        { offset: 1, matrix: at(50) },
      ],
      0.4,
    );
    expect(sent[0]?.options).toEqual({ delay: 300, duration: 100, fill: 'backwards' });
    expect(sent[0]?.frames.map(({ offset }) => offset)).toEqual([0, 1]);
    expect(style.transform).toBe('matrix(1.0000, 0.0000, 0.0000, 1.0000, 50.0000, 0.0000)');
  });

  it('goes on from where it is seen when it is sent elsewhere on its way', () => {
    const { glide, sent } = element();
    glide.put(at(0));
    glide.send(
      [
        { offset: 0, matrix: at(0) },
        { offset: 1, matrix: at(100) },
      ],
      1,
    );
    sent[0]!.currentTime = 250;
    glide.send(
      [
        { offset: 0, matrix: at(100) },
        { offset: 1, matrix: at(200) },
      ],
      1,
    );
    expect(sent[0]?.playState).toBe('idle');
    expect(transformOf(sent[1]?.frames[0])).toContain(' 25.0000, 0.0000)');
    // Once there, it sets out from its rest.
    sent[1]!.playState = 'finished';
    glide.send(
      [
        { offset: 0, matrix: at(7) },
        { offset: 1, matrix: at(9) },
      ],
      1,
    );
    expect(transformOf(sent[2]?.frames[0])).toContain(' 200.0000, 0.0000)');
  });
});
