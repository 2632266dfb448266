/**
 * The runner maps the places in an error's stack by the text of its modules, which it holds as bytes where it took them
 * from its cache: whoever looks at a stack in a global set-up then gets another error in its place, and one that was
 * expected, as of a server that is not up yet, ends the run. Where mapping fails, places stand as they are.
 */
export function keepStacks(): void {
  const mapped = Error.prepareStackTrace;
  if (mapped === undefined) return;
  Error.prepareStackTrace = (error, places) => {
    try {
      return mapped(error, places);
    } catch {
      return [String(error), ...places].join('\n    at ');
    }
  };
}
