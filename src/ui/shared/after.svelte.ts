// What is drawn a little after something else, so that a slow machine draws neither all at once nor the first one late.
import { onpainted } from './painted';

/**
 * Follows a value some pictures later; the latest one counts. Before the first time round it is the value itself. Call it
 * where a component begins.
 */
export function after<Value>(pictures: number, read: () => Value): () => Value {
  let late = $state.raw<{ readonly value: Value } | null>(null);
  $effect(() => {
    const value = read();
    let isLatest = true;
    const wait = (left: number): void => {
      if (!isLatest) return;
      if (left === 0) late = { value };
      else onpainted(() => wait(left - 1));
    };
    wait(pictures);
    return () => {
      isLatest = false;
    };
  });
  return () => (late === null ? read() : late.value);
}
