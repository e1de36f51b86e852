// The same pipeline from a terminal. Output goes to standard output or a file, everything said about it to standard error.
import { existsSync } from 'node:fs';
import { basename } from 'node:path';
import { version } from '../../package.json' with { type: 'json' };
import { parseCommand, type Command } from './arguments';
import { chartOutcome, fingerOutcome, scaleOutcome, walkOutcome } from './commands';
import { devicesOutcome } from './devices';
import { FileError, PipeClosed, readBytes, writeOutput, writeTo } from './files';
import { lessonOutcome, roundOutcome } from './lesson';
import { nightOutcome } from './night';
import { UsageError } from './options';
import type { Outcome } from './outcome';
import { printPage } from './print-page';
import { helpOf, usageHint } from './usage';
import { waysOutcome } from './ways';

/** Exit codes. The last is what a shell sees of a program that a closed pipe ended (128 and the signal's number, POSIX). */
const exits = { done: 0, nothing: 1, usage: 2, closedPipe: 141 } as const;

type Work = Exclude<Command, { command: 'help' | 'version' }>;

const nameOf = (path: string): string => (path === '-' ? 'input' : basename(path));

/** What stands for a line is a file when there is one of that name, or when it looks like one that is missing. */
const isFile = (line: string): boolean =>
  line === '-' || existsSync(line) || /[\\/]|\.(midi?|musicxml|mxl|xml|abc|txt)$/i.test(line);

/** A line in a file, or the notes themselves where none is. */
const readLine = async (line: string): Promise<{ readonly input: Uint8Array; readonly name: string }> =>
  isFile(line)
    ? { input: await readBytes(line), name: nameOf(line) }
    : { input: new TextEncoder().encode(line), name: 'line' };
/** Tells how far a night or a round has come, on one line of a terminal; nothing where nobody watches. */
function progressTold(): (done: number) => void {
  if (!process.stderr.isTTY) return () => undefined;
  let told = -1;
  return (done) => {
    const percent = Math.floor(done * 100);
    if (percent <= told) return;
    told = percent;
    process.stderr.write(percent < 100 ? `\rplanning: ${percent} %` : '\r\u001b[K');
  };
}

async function outcomeOf(command: Work): Promise<Outcome> {
  switch (command.command) {
    case 'walk':
      return walkOutcome(await readBytes(command.chart), nameOf(command.chart), command);
    case 'chart':
      return chartOutcome(await readBytes(command.chart), nameOf(command.chart), command);
    case 'scale':
      return scaleOutcome(command);
    case 'ways':
      return waysOutcome(await readBytes(command.chart), nameOf(command.chart), command);
    case 'lesson':
      return lessonOutcome(await readBytes(command.chart), nameOf(command.chart), command);
    case 'round':
      return roundOutcome(await readBytes(command.chart), nameOf(command.chart), command, progressTold());
    case 'devices': {
      const { changes } = command;
      if (changes === null)
        return devicesOutcome(await readBytes(command.line), nameOf(command.line), null, command);
      const { input, name } = await readLine(command.line);
      return devicesOutcome(input, name, { input: await readBytes(changes), name: nameOf(changes) }, command);
    }
    case 'night':
      return nightOutcome(await readBytes(command.file), nameOf(command.file), command, progressTold());
    case 'finger': {
      const { input, name } = await readLine(command.line);
      return fingerOutcome(input, name, command);
    }
  }
}

const say = (text: string): Promise<void> => writeTo(process.stderr, `${text}\n`, 'standard error');

async function run(argv: readonly string[]): Promise<number> {
  const command = parseCommand(argv);
  if (command.command === 'help') {
    await writeOutput(helpOf(command.about), null);
    return exits.done;
  }
  if (command.command === 'version') {
    await writeOutput(`ramble ${version}`, null);
    return exits.done;
  }
  const { output, messages, exitCode } = await outcomeOf(command);
  for (const message of messages) await say(message);
  const isPrinted = exitCode === exits.done && 'format' in command && command.format === 'pdf';
  await writeOutput(isPrinted ? await printPage(String(output)) : output, command.out);
  return exitCode;
}

/** Runs one command line; gives the exit code: 0 done, 1 nothing could be made, 2 wrong usage. */
async function main(argv: readonly string[]): Promise<number> {
  try {
    return await run(argv);
  } catch (error) {
    if (error instanceof PipeClosed) return exits.closedPipe;
    try {
      if (error instanceof UsageError) await say(`ramble: ${error.message}\n${usageHint(argv[0])}`);
      else if (error instanceof FileError) await say(`ramble: ${error.message}`);
      else await say(`ramble: this should not have happened: ${String(error)}`);
    } catch {
      // Nobody hears.
    }
    return error instanceof UsageError ? exits.usage : exits.nothing;
  }
}

// An error of a stream that nobody waits for any more has been told already.
for (const stream of [process.stdout, process.stderr]) stream.on('error', () => undefined);
process.exitCode = await main(process.argv.slice(2));
