// Code that is fetched when it is needed.
import type { Component } from 'svelte';

/** Fetches the code of a part of the screen; as usual one that needs nothing but the context. */
export type Load<Given extends Record<string, unknown> = Record<string, never>> = () => Promise<{
  readonly default: Component<Given>;
}>;
