// WebKit by its own driver (W3C WebDriver), on a display that nobody sees.
import { spawn, type ChildProcess } from 'node:child_process';
import { createServer, type AddressInfo } from 'node:net';
import { patience, pressing, typing, until, type Engine } from './engine';

interface Programs {
  readonly driver: string;
  readonly browser: string;
  readonly display: string;
}

async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  await new Promise<void>((resolve) => server.close(() => resolve()));
  return port;
}

/** A display of its own; the program says the number it has found free. */
function openDisplay(program: string): Promise<{ child: ChildProcess; name: string }> {
  const child = spawn(program, ['-displayfd', '1', '-screen', '0', '1440x1000x24', '-nolisten', 'tcp'], {
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  return new Promise((resolve, reject) => {
    child.stdout
      .setEncoding('utf8')
      .once('data', (text: string) => resolve({ child, name: `:${text.trim()}` }));
    child.once('exit', () => reject(new Error('no display could be opened')));
    child.once('error', reject);
  });
}

async function ask<Value>(address: string, method: string, body?: object): Promise<Value> {
  const response = await fetch(address, {
    method,
    ...(body ? { body: JSON.stringify(body), headers: { 'content-type': 'application/json' } } : {}),
    signal: AbortSignal.timeout(patience),
  });
  const { value } = (await response.json()) as { value: Value & { error?: string; message?: string } };
  if (!response.ok) throw new Error(`${address}: ${value.error} ${value.message}`);
  return value;
}

export async function openWebKit({ driver, browser, display }: Programs): Promise<Engine> {
  const screen = await openDisplay(display);
  const port = await freePort();
  const child = spawn(driver, [`--port=${port}`], {
    stdio: 'ignore',
    env: {
      ...process.env,
      DISPLAY: screen.name,
      GDK_BACKEND: 'x11',
      WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS: '1',
    },
  });
  const end = (): void => {
    child.kill();
    screen.child.kill();
  };
  try {
    const root = `http://127.0.0.1:${port}`;
    await until(
      'the driver',
      () => ask<{ ready: boolean }>(`${root}/status`, 'GET').catch(() => ({ ready: false })),
      ({ ready }) => ready,
    );
    const { sessionId } = await ask<{ sessionId: string }>(`${root}/session`, 'POST', {
      capabilities: {
        alwaysMatch: { 'webkitgtk:browserOptions': { binary: browser, args: ['--automation'] } },
      },
    });
    const session = `${root}/session/${sessionId}`;
    await ask(`${session}/timeouts`, 'POST', { script: patience, pageLoad: patience });
    await ask(`${session}/window/rect`, 'POST', { width: 1440, height: 980 });
    return {
      name: 'WebKit',
      errors: [],
      open: async (url) => {
        await ask(`${session}/url`, 'POST', { url });
      },
      reload: async () => {
        await ask(`${session}/refresh`, 'POST', {});
      },
      run: async <Result>(body: string): Promise<Result> => {
        const script = `const done = arguments[0];
          (async () => { ${body} })().then(
            (value) => done(JSON.stringify({ value: value ?? null })),
            (error) => done(JSON.stringify({ error: String(error) })));`;
        const text = await ask<string>(`${session}/execute/async`, 'POST', { script, args: [] });
        const answer = JSON.parse(text) as { value: Result; error?: string };
        if (answer.error !== undefined) throw new Error(answer.error);
        return answer.value;
      },
      type: async (text) => {
        await ask(`${session}/actions`, 'POST', { actions: typing(text) });
      },
      pressAt: async (x, y) => {
        await ask(`${session}/actions`, 'POST', { actions: pressing(x, y) });
      },
      // Its driver has no command for it.
      print: () => Promise.resolve(null),
      close: async () => {
        await ask(session, 'DELETE').catch(() => undefined);
        end();
      },
    };
  } catch (error) {
    end();
    throw error;
  }
}
