// The documents are run: commands must work and print what stands below them, charts must read, scripts and files must exist.
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { readChart } from '../src/pipeline';

const root = fileURLToPath(new URL('..', import.meta.url));
const documents = ['README.md', 'DEVELOPERS.md'];
const read = (name: string): string => readFileSync(`${root}/${name}`, 'utf8');

interface Block {
  readonly language: string;
  readonly body: string;
}

/** Fenced blocks in order. */
function blocksOf(text: string): Block[] {
  return [...text.matchAll(/^```(\w*)\n([\s\S]*?)^```$/gm)].map((match) => ({
    language: match[1]!,
    body: match[2]!,
  }));
}

interface Example {
  readonly command: string;
  /** The `text` block right after the command, when there is one. */
  readonly expected: string | null;
}

const examples: Example[] = documents.flatMap((name) => {
  const blocks = blocksOf(read(name));
  return blocks.flatMap((block, index) => {
    if (block.language !== 'sh' || !block.body.startsWith('npm run -s ramble')) return [];
    const next = blocks[index + 1];
    return [{ command: block.body.trim(), expected: next?.language === 'text' ? next.body : null }];
  });
});

describe('examples in the documents', () => {
  it('are there', () => {
    expect(examples.length).toBeGreaterThan(2);
    expect(examples.some((example) => example.expected !== null)).toBe(true);
  });

  it.each(examples)(
    '$command',
    ({ command, expected }) => {
      const output = execFileSync('sh', ['-c', command], {
        cwd: root,
        encoding: 'utf8',
        stdio: ['ignore', 'pipe', 'ignore'],
      });
      if (expected === null) expect(output.length).toBeGreaterThan(0);
      else expect(output).toBe(expected);
    },
    240_000,
  );

  const charts = documents.flatMap((name) =>
    blocksOf(read(name)).filter((block) => block.language === 'chart'),
  );

  it.each(charts)('the chart $body reads without a problem', ({ body }) => {
    const { chart, problems } = readChart(body);
    expect(problems).toEqual([]);
    expect(chart.bars.length).toBeGreaterThan(0);
  });
});

describe.each(documents)('%s', (name) => {
  const text = read(name);

  it('names only scripts that exist', () => {
    const scripts = Object.keys((JSON.parse(read('package.json')) as { scripts: object }).scripts);
    const named = [...text.matchAll(/npm run (?:-s )?([\w:-]+)/g)].map((match) => match[1]!);
    expect(named.filter((script) => !scripts.includes(script))).toEqual([]);
  });

  it('names only files that exist', () => {
    const paths = [...text.matchAll(/`((?:src|tests|shared|static|\.ci)\/[^\s`*<>{}]+)`/g)].map(
      (match) => match[1]!,
    );
    const pictures = [...text.matchAll(/!\[[^\]]*\]\(([^)]+)\)/g)].map((match) => match[1]!);
    expect([...paths, ...pictures].filter((path) => !existsSync(`${root}/${path}`))).toEqual([]);
  });
});

it('README opens with one paragraph on the job, then a picture', () => {
  const parts = read('README.md').split('\n\n');
  expect(parts[0]).toMatch(/^# Ramble$/);
  expect(parts[1]!.length).toBeGreaterThan(200);
  expect(parts[2]).toMatch(/^!\[/);
});
