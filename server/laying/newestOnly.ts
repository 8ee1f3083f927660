/**
 * Passes on the newest of what it takes, the first at once and then at most every `intervalMs`.
 * `stop` drops what has not been passed on.
 */
export function newestOnly<Value>(
  intervalMs: number,
  pass: (value: Value) => void,
): { readonly take: (value: Value) => void; readonly stop: () => void } {
  let held: { readonly value: Value } | undefined;
  let timer: NodeJS.Timeout | undefined;
  const passOn = (): void => {
    timer = undefined;
    if (held === undefined) return;
    const { value } = held;
    held = undefined;
    timer = setTimeout(passOn, intervalMs);
    pass(value);
  };
  return {
    take: (value) => {
      held = { value };
      if (timer === undefined) passOn();
    },
    stop: () => {
      held = undefined;
      clearTimeout(timer);
    },
  };
}
