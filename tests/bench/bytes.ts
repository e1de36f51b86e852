// Bytes in the typed arrays that something holds: a bound on memory that does not depend on when garbage is collected.
import { LRUCache } from 'lru-cache';

/** Sizes of all buffers that can be reached from a value, each counted once. */
export function bytesHeld(...values: readonly unknown[]): number {
  const buffers = new Set<ArrayBufferLike>();
  const seen = new Set<object>();
  const waiting: unknown[] = [...values];
  while (waiting.length > 0) {
    const value = waiting.pop();
    if (typeof value !== 'object' || value === null || seen.has(value)) continue;
    seen.add(value);
    if (ArrayBuffer.isView(value)) buffers.add(value.buffer);
    else if (value instanceof Map || value instanceof LRUCache)
      waiting.push(...value.keys(), ...value.values());
    else if (value instanceof Set || Array.isArray(value)) for (const one of value) waiting.push(one);
    // What a class keeps to itself it tells by `arrays`.
    else waiting.push(...Object.values(value), 'arrays' in value ? value.arrays : null);
  }
  return [...buffers].reduce((sum, buffer) => sum + buffer.byteLength, 0);
}
