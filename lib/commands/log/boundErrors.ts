import { format } from 'node:util';
import { Repeats } from './repeats';

const MOST_CHARACTERS = 8000;
const TELL_EVERY_MS = 60_000;

type Print = (message: string) => void;

/**
 * From here on this process's `console.error` and `console.warn`, by which the framework too reports what a request
 * threw, print a message once a minute and then how often it came again. Called once, first thing, by each long-lived
 * process; gives back what undoes it.
 */
export function boundErrors(now: () => number = Date.now): () => void {
  const undo = (['error', 'warn'] as const).map((name) => {
    const print = console[name];
    const bounded = boundedPrint((message) => print.call(console, message), now);
    console[name] = (...parts: unknown[]) => bounded.print(format(...parts));
    return () => {
      bounded.stop();
      console[name] = print;
    };
  });
  return () => {
    for (const one of undo) one();
  };
}

function boundedPrint(print: Print, now: () => number): { print: Print; stop: () => void } {
  const repeats = new Repeats();
  const tell = (held: ReturnType<Repeats['summaryAt']>) => {
    for (const { message, times } of held) {
      const [first = ''] = message.split('\n');
      print(
        message === ''
          ? `${times} further messages were not printed.`
          : `${times} more in the last minute: ${shortened(first, 300)}`,
      );
    }
  };
  // What was held back is told also when nothing follows; it keeps no process alive.
  const timer = setInterval(() => tell(repeats.summaryAt(now())), TELL_EVERY_MS);
  timer.unref();
  return {
    print: (message) => {
      const { isPrinted, summary } = repeats.admit(message, now());
      tell(summary);
      if (isPrinted) print(shortened(message, MOST_CHARACTERS));
    },
    stop: () => {
      clearInterval(timer);
      tell(repeats.summaryAt(Number.POSITIVE_INFINITY));
    },
  };
}

function shortened(message: string, most: number): string {
  return message.length <= most ? message : `${message.slice(0, most)} … (${message.length} characters)`;
}
