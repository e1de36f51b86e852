// A stock Firefox by WebDriver BiDi (W3C), which it speaks itself: no driver beside it.
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { WebSocket } from 'undici';
import { patience, pressing, typing, type Engine } from './engine';

interface Reply {
  readonly id?: number;
  readonly type: 'success' | 'error' | 'event';
  readonly result?: unknown;
  readonly message?: string;
  readonly method?: string;
  readonly params?: unknown;
}

/** One conversation: commands are answered by their number, events are told. */
async function connect(url: string, onevent: (method: string, params: unknown) => void) {
  const socket = new WebSocket(url);
  await new Promise<void>((resolve, reject) => {
    socket.addEventListener('open', () => resolve());
    socket.addEventListener('error', () => reject(new Error(`no connection to ${url}`)));
  });
  const pending = new Map<number, (reply: Reply) => void>();
  socket.addEventListener('message', ({ data }) => {
    const reply = JSON.parse(String(data)) as Reply;
    if (reply.type === 'event') onevent(reply.method ?? '', reply.params);
    else pending.get(reply.id ?? -1)?.(reply);
  });
  let count = 0;
  return {
    send: <Result>(method: string, params: object): Promise<Result> =>
      new Promise((resolve, reject) => {
        const id = ++count;
        const timer = setTimeout(() => reject(new Error(`${method} was not answered`)), patience);
        pending.set(id, (reply) => {
          clearTimeout(timer);
          pending.delete(id);
          if (reply.type === 'success') resolve(reply.result as Result);
          else reject(new Error(`${method}: ${reply.message ?? 'failed'}`));
        });
        socket.send(JSON.stringify({ id, method, params }));
      }),
    close: () => socket.close(),
  };
}

export async function openFirefox(program: string): Promise<Engine> {
  const profile = mkdtempSync(join(tmpdir(), 'ramble-firefox-'));
  const child = spawn(
    program,
    ['--headless', '--no-remote', '--remote-debugging-port', '0', '--profile', profile, 'about:blank'],
    {
      stdio: ['ignore', 'ignore', 'pipe'],
      env: { ...process.env, MOZ_HEADLESS_WIDTH: '1440', MOZ_HEADLESS_HEIGHT: '900' },
    },
  );
  const gone = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  const end = async (): Promise<void> => {
    child.kill();
    await gone;
    rmSync(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
  };
  try {
    const address = await new Promise<string>((resolve, reject) => {
      let said = '';
      child.stderr.setEncoding('utf8').on('data', (text: string) => {
        said += text;
        const [, found] = /WebDriver BiDi listening on (ws:\/\/\S+)/.exec(said) ?? [];
        if (found) resolve(found);
      });
      child.once('exit', () => reject(new Error(`Firefox ended: ${said.slice(-500)}`)));
      setTimeout(() => reject(new Error(`Firefox does not listen: ${said.slice(-500)}`)), patience);
    });
    const errors: string[] = [];
    const session = await connect(`${address}/session`, (method, params) => {
      const entry = params as { level?: string; text?: string };
      if (method === 'log.entryAdded' && entry.level === 'error') errors.push(entry.text ?? '');
    });
    await session.send('session.new', { capabilities: {} });
    await session.send('session.subscribe', { events: ['log.entryAdded'] });
    const { contexts } = await session.send<{ contexts: { context: string }[] }>(
      'browsingContext.getTree',
      {},
    );
    const { context } = contexts[0]!;
    await session.send('browsingContext.setViewport', { context, viewport: { width: 1440, height: 900 } });
    return {
      name: 'Firefox',
      errors,
      open: async (url) => {
        await session.send('browsingContext.navigate', { context, url, wait: 'complete' });
      },
      reload: async () => {
        await session.send('browsingContext.reload', { context, wait: 'complete' });
      },
      run: async <Result>(body: string): Promise<Result> => {
        const answer = await session.send<{
          type: string;
          result?: { value?: string };
          exceptionDetails?: { text: string };
        }>('script.evaluate', {
          expression: `(async () => { ${body} })().then((value) => JSON.stringify(value ?? null))`,
          target: { context },
          awaitPromise: true,
        });
        if (answer.type !== 'success') throw new Error(answer.exceptionDetails?.text ?? 'the script failed');
        return JSON.parse(answer.result?.value ?? 'null') as Result;
      },
      type: async (text) => {
        await session.send('input.performActions', { context, actions: typing(text) });
      },
      pressAt: async (x, y) => {
        await session.send('input.performActions', { context, actions: pressing(x, y) });
      },
      print: async () => {
        const { data } = await session.send<{ data: string }>('browsingContext.print', {
          context,
          background: true,
          page: { width: 21, height: 29.7 },
        });
        return Buffer.from(data, 'base64');
      },
      close: async () => {
        session.close();
        await end();
      },
    };
  } catch (error) {
    await end();
    throw error;
  }
}
