import { describe, expect, it, vi } from 'vitest';
import { keepOffline, type UpdateParts } from '../../src/offline';

type Client = Awaited<ReturnType<NonNullable<UpdateParts['connect']>>>;

/** A registering client whose events the test sends. */
function fakeClient(register: () => Promise<undefined> = () => Promise.resolve(undefined)) {
  const listeners = new Map<string, () => void>();
  const messageSkipWaiting = vi.fn();
  const client = {
    addEventListener: (name: string, listener: () => void) => void listeners.set(name, listener),
    messageSkipWaiting,
    register,
  } as unknown as Client;
  return { client, messageSkipWaiting, send: (name: string) => listeners.get(name)?.() };
}

function parts(client: Client) {
  const steps: string[] = [];
  const offered: (() => void)[] = [];
  const made: UpdateParts = {
    worker: './sw.js',
    connect: () => Promise.resolve(client),
    onwaiting: (take) => offered.push(take),
    beforeReload: () => {
      steps.push('saved');
      return Promise.resolve();
    },
    reload: () => steps.push('reloaded'),
  };
  return { made, steps, offered };
}

describe('a new version', () => {
  it('waits until it is asked for, then saves before it loads the page again', async () => {
    const { client, messageSkipWaiting, send } = fakeClient();
    const { made, steps, offered } = parts(client);
    expect(await keepOffline(made)).toBe(true);
    send('waiting');
    expect(offered).toHaveLength(1);
    expect(messageSkipWaiting).not.toHaveBeenCalled();
    offered[0]!();
    expect(messageSkipWaiting).toHaveBeenCalledOnce();
    expect(steps).toEqual([]);
    send('controlling');
    await vi.waitFor(() => {
      expect(steps).toEqual(['saved', 'reloaded']);
    });
  });

  it('never reloads a page that did not ask', async () => {
    const { client, send } = fakeClient();
    const { made, steps } = parts(client);
    await keepOffline(made);
    send('controlling');
    await Promise.resolve();
    expect(steps).toEqual([]);
  });

  it('loads the page again even when saving fails: the saved work is older, not lost', async () => {
    const { client, send } = fakeClient();
    const { made, steps, offered } = parts(client);
    await keepOffline({ ...made, beforeReload: () => Promise.reject(new Error('full')) });
    send('waiting');
    offered[0]!();
    send('controlling');
    await vi.waitFor(() => {
      expect(steps).toEqual(['reloaded']);
    });
  });
});

it('a browser that refuses service workers costs nothing', async () => {
  const refusing = fakeClient(() => Promise.reject(new Error('not allowed')));
  expect(await keepOffline(parts(refusing.client).made)).toBe(false);
  const { made } = parts(refusing.client);
  expect(await keepOffline({ ...made, connect: () => Promise.reject(new Error('no such part')) })).toBe(
    false,
  );
});
