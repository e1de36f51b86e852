import { cleanup, fireEvent, render, screen, within } from '@testing-library/svelte';
import { flushSync, type Component } from 'svelte';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { handPosition } from '../../../src/instrument';
import { bpm } from '../../../src/music';
import type { WalkResult } from '../../../src/pipeline';
import { unknownChord } from '../../pipeline/unknown-chord';
import { AuditionSheet } from '../../../src/state/audition-sheet.svelte';
import { Beside } from '../../../src/state/beside.svelte';
import { ChartOpener } from '../../../src/state/chart-file';
import { Focus } from '../../../src/state/focus.svelte';
import { newStudy } from '../../../src/state/document';
import { LessonSheet } from '../../../src/state/lesson-sheet.svelte';
import { Library } from '../../../src/state/library.svelte';
import { Notices } from '../../../src/state/notices.svelte';
import { memoryShelf } from '../../state/memory-shelf';
import { Playing } from '../../../src/state/playing.svelte';
import { PracticeLog } from '../../../src/state/practice-log.svelte';
import { Settings } from '../../../src/state/settings.svelte';
import { Studio } from '../../../src/state/studio.svelte';
import ChartEditor from '../../../src/ui/changes/ChartEditor.svelte';
import LimitsPanel from '../../../src/ui/limits/LimitsPanel.svelte';
import NoticesList from '../../../src/ui/shared/Notices.svelte';
import { rambleContext, type Ramble } from '../../../src/ui/shared/context';
import { ExtraPaper } from '../../../src/ui/shared/extra-paper.svelte';
import { Panels } from '../../../src/ui/shared/panels.svelte';
import Troubles from '../../../src/ui/stage/Troubles.svelte';
import {
  HandExplainer,
  HandSource,
  makeImpossible,
  makeLine,
  makeResult,
  makeTimeline,
} from '../../state/fixtures';

function desk(text = '| F7 |\n| Hm |') {
  const source = new HandSource();
  const studio = new Studio({
    study: newStudy(text),
    connect: source.connect,
    connectExplainer: new HandExplainer().connect,
    now: () => 0,
  });
  const settings = new Settings(null);
  const notices = new Notices();
  const playing = new Playing({
    studio,
    settings,
    notices,
    makePlayback: () => ({
      status: { state: 'idle', substitutes: [] },
      settings: {
        tempo: bpm(120),
        swing: 'by tempo',
        countInBars: 0,
        loop: 'none',
        mix: settings.values.mix,
        seed: 0,
        isLoose: true,
        bassSound: 'upright',
        click: '2 and 4',
        amount: 'as usual',
        yourTurn: false,
        outputDelay: 0,
        leans: true,
        isWide: true,
        hasRoom: true,
      },
      load: () => undefined,
      queue: () => undefined,
      set: () => undefined,
      play: () => Promise.resolve(),
      stop: () => undefined,
      position: () => null,
      testTone: () => Promise.resolve(),
      prepare: () => Promise.resolve(),
      dispose: () => Promise.resolve(),
    }),
    nextFrame: () => () => undefined,
    now: () => 0,
    keepAwake: () => () => undefined,
    samples: '',
    connectNext: new HandSource().connect,
    log: new PracticeLog(null, () => ''),
    studyId: () => 'study',
  });
  const library = new Library({
    desk: studio,
    notices,
    now: () => 0,
    newId: () => 'id',
    tab: null,
    openShelf: () => Promise.resolve(memoryShelf()),
  });
  const panels = new Panels();
  const focus = new Focus(studio, playing);
  const beside = new Beside(studio, new HandSource().connect);
  const opener = new ChartOpener(() => ({ request: () => undefined, cancel: () => undefined }));
  const ramble: Ramble = {
    studio,
    settings,
    notices,
    playing,
    library,
    panels,
    extraPaper: new ExtraPaper(),
    focus,
    beside,
    opener,
    connectLine: () => ({ request: () => undefined, cancel: () => undefined, dispose: () => undefined }),
    connectBothWays: () => ({ request: () => undefined, cancel: () => undefined, dispose: () => undefined }),
    connectWays: () => ({ request: () => undefined, cancel: () => undefined, dispose: () => undefined }),
    connectLessons: {
      lesson: () => ({ request: () => undefined, dispose: () => undefined }),
      round: () => ({ request: () => undefined, dispose: () => undefined }),
      carry: () => ({ request: () => undefined, dispose: () => undefined }),
    },
    auditionParts: {
      connect: () => ({ request: () => undefined, cancel: () => undefined, dispose: () => undefined }),
      held: null,
    },
    auditionSheet: new AuditionSheet(studio, beside),
    lessonSheet: new LessonSheet(studio),
    lessonsPlace: { storage: null, today: () => '2030-02-27' },
    nightParts: {
      connect: () => ({ request: () => undefined, cancel: () => undefined, dispose: () => undefined }),
      now: () => 0,
      newId: () => 'night',
      tab: null,
      take: () => null,
    },
    demos: [],
  };
  const show = (component: Component): void => {
    render(component, { context: rambleContext(ramble) });
  };
  const answer = (change: Partial<WalkResult> = {}): void => {
    const request = source.asks.at(-1);
    if (!request) throw new Error('nothing was asked');
    const timeline = makeTimeline(2);
    const result = { ...makeResult(request, makeLine(timeline), timeline), ...change };
    source.onanswer({ ask: request, answer: result, isLatest: true });
    flushSync();
  };
  return { ...ramble, source, show, answer };
}

afterEach(cleanup);

describe('the chart editor', () => {
  it('marks a fault, lists it, and jumps to it', async () => {
    const { show, answer } = desk();
    show(ChartEditor);
    const field = screen.getByRole<HTMLTextAreaElement>('textbox', { name: 'Chart as text' });
    expect(field).toHaveProperty('value', '| F7 |\n| Hm |');
    answer({ problems: [unknownChord] });
    expect(document.querySelector('pre .error')?.textContent).toBe('Hm');
    expect(field.getAttribute('aria-invalid')).toBe('true');
    const remark = screen.getByRole('button', { name: /Line 2, column 3/ });
    expect(remark.textContent).toContain('No chord is called "Hm".');
    await fireEvent.click(remark);
    expect(document.activeElement).toBe(field);
    expect(field.value.slice(field.selectionStart, field.selectionEnd)).toBe('Hm');
  });

  it('takes typing to the studio and follows undo', async () => {
    const { show, studio } = desk();
    show(ChartEditor);
    const field = screen.getByRole<HTMLTextAreaElement>('textbox');
    await fireEvent.input(field, { target: { value: '| F7 |\n| Bm |' } });
    expect(studio.study.chartText).toBe('| F7 |\n| Bm |');
    studio.undo();
    flushSync();
    expect(field.value).toBe('| F7 |\n| Hm |');
  });
});

describe('the limits', () => {
  it('bar a position by its chip and by a preset', async () => {
    const { show, studio } = desk();
    show(LimitsPanel);
    const positions = within(screen.getByRole('group', { name: 'Positions' }));
    const half = positions.getByRole('button', { name: /^Bar half A♭/ });
    expect(half.getAttribute('aria-pressed')).toBe('false');
    await fireEvent.click(half);
    expect(studio.study.barred).toEqual([1]);
    expect(half.getAttribute('aria-pressed')).toBe('true');
    const preset = screen.getByRole('button', { name: 'No half' });
    expect(preset.getAttribute('aria-pressed')).toBe('true');
    await fireEvent.click(screen.getByRole('button', { name: 'Nothing barred' }));
    expect(studio.study.barred).toEqual([]);
  });
});

describe('troubles', () => {
  it('offer to allow a position again when no line is possible', async () => {
    const { show, answer, studio } = desk();
    show(Troubles);
    answer();
    expect(screen.queryByRole('button')).toBeNull();
    studio.toggleBarred(handPosition(1));
    answer({
      line: null,
      impossible: makeImpossible([handPosition(1)]),
    });
    expect(screen.getByText(/cannot hold together/)).toBeTruthy();
    await fireEvent.click(screen.getByRole('button', { name: 'Allow half' }));
    expect(studio.study.barred).toEqual([]);
  });

  it('let go of all that clash at several places by one press, which is one step', async () => {
    const { show, answer, studio } = desk();
    show(Troubles);
    answer();
    studio.toggleBarred(handPosition(1));
    studio.toggleBarred(handPosition(3));
    const { conflict, ...impossible } = makeImpossible([handPosition(1), handPosition(3)]);
    answer({ line: null, impossible: { ...impossible, conflict, cheapest: null, together: conflict } });
    await fireEvent.click(screen.getByRole('button', { name: 'Let go of these 2' }));
    expect(studio.study.barred).toEqual([]);
    studio.undo();
    expect(studio.study.barred).toEqual([1, 3]);
  });

  it('lead to the changes when there is nothing to play', async () => {
    const { show, answer, panels } = desk('');
    show(Troubles);
    answer({ line: null, timeline: null, impossible: null });
    await fireEvent.click(screen.getByRole('button', { name: 'Open the changes' }));
    expect(panels.drawer).toBe('changes');
  });
});

describe('notices', () => {
  beforeEach(() => {
    vi.stubGlobal(
      'ResizeObserver',
      class {
        observe = vi.fn();
        unobserve = vi.fn();
        disconnect = vi.fn();
      },
    );
  });
  afterEach(() => vi.unstubAllGlobals());

  it('show text as text, act once and go', async () => {
    const { show, notices } = desk();
    show(NoticesList);
    let undone = 0;
    notices.show({ code: 'removed', title: '<b>Blues</b>' }, { name: 'undo', run: () => undone++ });
    flushSync();
    expect(screen.getByText('“<b>Blues</b>” was removed.')).toBeTruthy();
    await fireEvent.click(screen.getByRole('button', { name: 'Undo' }));
    expect(undone).toBe(1);
    expect(screen.queryByText(/was removed/)).toBeNull();
  });
});
