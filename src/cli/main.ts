// The same pipeline from a terminal. Output goes to standard output or a file, everything said about it to standard error.
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { basename } from 'node:path';
import { parseCommand, type Command } from './arguments';
import { chartOutcome, fingerOutcome, scaleOutcome, walkOutcome } from './commands';
import { devicesOutcome } from './devices';
import { waysOutcome } from './ways';
import { UsageError } from './options';
import type { Outcome } from './outcome';
import { usage } from './usage';

/** Charts larger than this are refused before they are read: the longest real ones are a few kilobytes. */
const mostBytes = 4 * 1024 * 1024;

class InputError extends Error {}

function readInput(path: string): Uint8Array {
  let bytes: Uint8Array;
  try {
    bytes = readFileSync(path === '-' ? 0 : path);
  } catch (error) {
    throw new InputError(`cannot read ${path}: ${error instanceof Error ? error.message : String(error)}`);
  }
  if (bytes.length > mostBytes)
    throw new InputError(`${path} is larger than ${mostBytes / 1024 / 1024} MB: not a chart`);
  return bytes;
}

const nameOf = (path: string): string => (path === '-' ? 'input' : basename(path));

/** A line in a file, or the notes themselves where no such file is. */
function readLine(line: string): { readonly input: Uint8Array; readonly name: string } {
  const isNotes = line !== '-' && !existsSync(line);
  return isNotes
    ? { input: new TextEncoder().encode(line), name: 'line' }
    : { input: readInput(line), name: nameOf(line) };
}

function write(output: string | Uint8Array, path: string | null): void {
  const body = typeof output === 'string' && output !== '' && !output.endsWith('\n') ? `${output}\n` : output;
  if (path === null) process.stdout.write(body);
  else writeFileSync(path, body);
}

function outcomeOf(command: Exclude<Command, { command: 'help' }>): Outcome {
  switch (command.command) {
    case 'walk':
      return walkOutcome(readInput(command.chart), nameOf(command.chart), command);
    case 'chart':
      return chartOutcome(readInput(command.chart), nameOf(command.chart), command);
    case 'scale':
      return scaleOutcome(command);
    case 'ways':
      return waysOutcome(readInput(command.chart), nameOf(command.chart), command);
    case 'devices': {
      const { changes } = command;
      if (changes === null)
        return devicesOutcome(readInput(command.line), nameOf(command.line), null, command);
      const { input, name } = readLine(command.line);
      return devicesOutcome(input, name, { input: readInput(changes), name: nameOf(changes) }, command);
    }
    case 'finger': {
      const { input, name } = readLine(command.line);
      return fingerOutcome(input, name, command);
    }
  }
}

/** Runs one command line; returns the exit code: 0 done, 1 nothing could be made, 2 wrong usage. */
function main(argv: readonly string[]): number {
  let command: Command;
  try {
    command = parseCommand(argv);
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    console.error(`ramble: ${error.message}\n\n${usage}`);
    return 2;
  }
  if (command.command === 'help') {
    console.log(usage);
    return argv.length === 0 ? 2 : 0;
  }
  try {
    const { output, messages, exitCode } = outcomeOf(command);
    for (const message of messages) console.error(message);
    if (output.length > 0) write(output, command.out);
    return exitCode;
  } catch (error) {
    console.error(`ramble: ${error instanceof Error ? error.message : String(error)}`);
    return 1;
  }
}

process.exitCode = main(process.argv.slice(2));
