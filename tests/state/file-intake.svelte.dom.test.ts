// A file on its way in: what is said of it, and which of several counts.
import { flushSync } from 'svelte';
import { describe, expect, it } from 'vitest';
import type { Problem } from '../../src/pipeline';
import { FileIntake } from '../../src/state';
import { unknownChord } from '../pipeline/unknown-chord';

type Came = Awaited<
  ReturnType<ConstructorParameters<typeof FileIntake<string, { text: string }, 'no chart'>>[0]['open']>
>;

/** An intake whose files come to what the test says, when it says so. */
function setUp() {
  const asked: { readonly source: string; readonly come: (came: Came) => void }[] = [];
  const placed: string[] = [];
  const intake = new FileIntake<string, { text: string }, 'no chart'>({
    open: (source) => new Promise((come) => asked.push({ source, come })),
    accept: (name, { text }) => {
      placed.push(text);
      return `${name} is in place`;
    },
    refuse: (name, fault) => `${name}: ${fault}`,
  });
  const said = () => [intake.message, intake.remarks, intake.isReading];
  return { intake, asked, placed, said };
}
const opened = (text: string, problems: readonly Problem[] = []): Came => ({
  kind: 'opened',
  text,
  problems,
});

describe('a file on its way in', () => {
  it('is put in place once it is read, with its remarks', async () => {
    const { intake, asked, placed, said } = setUp();
    expect(said()).toEqual(['', [], false]);
    const reading = intake.read('tune.txt', 'one');
    expect(said()).toEqual(['', [], true]);
    expect(asked.map(({ source }) => source)).toEqual(['one']);
    asked[0]!.come(opened('| C7 |', [unknownChord]));
    await reading;
    expect(placed).toEqual(['| C7 |']);
    expect(said()).toEqual(['tune.txt is in place', [unknownChord], false]);
  });

  it('that is refused leaves what was in place, and says why', async () => {
    const { intake, asked, placed, said } = setUp();
    const reading = intake.read('tune.txt', 'one');
    asked[0]!.come({ kind: 'refused', fault: 'no chart', problems: [unknownChord] });
    await reading;
    expect(placed).toEqual([]);
    expect(said()).toEqual(['tune.txt: no chart', [unknownChord], false]);
    intake.refuse('song.txt', 'too large');
    expect(said()).toEqual(['song.txt: too large', [], false]);
  });

  it('gives way to a later one, whichever is read first', async () => {
    const { intake, asked, placed, said } = setUp();
    const first = intake.read('first', 'one');
    const second = intake.read('second', 'two');
    asked[0]!.come(opened('late'));
    await first;
    expect(said()).toEqual(['', [], true]);
    asked[1]!.come(opened('latest'));
    await second;
    expect(placed).toEqual(['latest']);

    const third = intake.read('third', 'three');
    intake.refuse('fourth', 'too large');
    asked[2]!.come(opened('third'));
    await third;
    expect(placed).toEqual(['latest']);
    expect(said()).toEqual(['fourth: too large', [], false]);
  });

  it('that its reader gave up is no longer being read', async () => {
    const { intake, asked, placed, said } = setUp();
    const reading = intake.read('tune.txt', 'one');
    asked[0]!.come(null);
    await reading;
    expect(placed).toEqual([]);
    expect(said()).toEqual(['', [], false]);
  });

  it('is forgotten, and seen to be by what shows it', async () => {
    const { intake, asked } = setUp();
    const shown: string[] = [];
    const stop = $effect.root(() => {
      $effect(() => {
        shown.push(intake.isReading ? 'reading' : intake.message);
      });
    });
    flushSync();
    const reading = intake.read('tune.txt', 'one');
    flushSync();
    asked[0]!.come(opened('| C7 |'));
    await reading;
    flushSync();
    intake.forget();
    flushSync();
    expect(shown).toEqual(['', 'reading', 'tune.txt is in place', '']);
    stop();
  });
});
