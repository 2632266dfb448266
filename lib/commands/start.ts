import { parseArgs } from 'node:util';
import { dataFolderFromEnvironment } from '@/lib/store/server/dataFolder';
import { sessionSecret } from '@/lib/store/server/keptSecret';
import { answers, answersOk } from './serve/answers';
import { startWeb, startWorkerProcess } from './serve/childProcess';
import { choosePort } from './serve/choosePort';
import { supervise } from './serve/supervise';
import { ensureBuilt, generateClient } from './serve/webBuild';
import { welcome } from './serve/welcome';

const { values: options } = parseArgs({ options: { dev: { type: 'boolean', default: false } } });

/** What is running, in the order of starting; it is stopped in the opposite order. */
const running: { stop: () => Promise<void> }[] = [];

const wanted = new AbortController();
// Ctrl-C reaches us more than once (from the terminal and through npm): the first is enough.
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => wanted.abort(signal));

// npm runs us through a shell, and a signal sent to npm ends that shell without reaching us: being left
// by it is the sign. (Run without npm, the process that started us may end as it likes.)
if (process.env.npm_lifecycle_event) {
  const shell = process.ppid;
  const watch = setInterval(() => process.ppid !== shell && wanted.abort('SIGTERM'), 200);
  watch.unref();
}

/** `npm start` and `npm run dev`: everything the app needs, kept running: the database, a web process, a worker. */
async function main(): Promise<void> {
  const host = process.env.HOST || '127.0.0.1';
  const { port, note } = await choosePort(host, process.env.PORT);
  if (options.dev) await generateClient(wanted.signal);
  else await ensureBuilt(wanted.signal);

  // Loaded only now: these need the generated client.
  const { openStore } = await import('./openStore');
  const store = await openStore();
  running.push({ stop: store.close });
  for (const name of store.applied) console.log(`Applied migration ${name}.`);
  wanted.signal.throwIfAborted();

  const address = process.env.NEXTAUTH_URL || `http://${host === '0.0.0.0' ? 'localhost' : host}:${port}`;
  process.env.NEXTAUTH_URL = address;
  process.env.EVENLOOP_DATA = dataFolderFromEnvironment();
  process.env.NEXTAUTH_SECRET ||= await sessionSecret(process.env.EVENLOOP_DATA);

  const place = `http://${host === '0.0.0.0' ? '127.0.0.1' : host}:${port}`;
  const first = startWeb({ isDev: options.dev, host, port });
  running.push(first);
  wanted.signal.addEventListener('abort', () => first.stop());
  // The web process loads while the registry is made ready; neither waits for the other.
  const [prepared, isUp] = await Promise.all([prepare(), answers(place, first)]);
  wanted.signal.throwIfAborted();
  if (!isUp) throw new Error('The web process ended or did not answer; what it wrote is above.');

  const say = (words: string) => console.error(words);
  const web = supervise({
    name: 'web process',
    // The first one runs already; whatever follows is started anew.
    start: once(first, () => startWeb({ isDev: options.dev, host, port })),
    // A debugger may stop a development server for as long as it likes.
    isWell: options.dev ? undefined : () => answersOk(`${place}/api/health/live`, 5_000),
    say,
  });
  running.splice(running.indexOf(first), 1, web);
  running.push(supervise({ name: 'worker', start: startWorkerProcess, say }));
  console.log(welcome({ address, note, place: store.place, ...prepared }));

  if (!wanted.signal.aborted)
    await new Promise((resolve) => wanted.signal.addEventListener('abort', resolve, { once: true }));
}

function once<T>(first: T, then: () => T): () => T {
  let isFirst = true;
  return () => {
    if (!isFirst) return then();
    isFirst = false;
    return first;
  };
}

/** Reference data and the first steward's code. */
async function prepare() {
  const { openRegistry } = await import('@/lib/registry/openRegistry');
  const { prepareRegistry } = await import('@/lib/registry/prepareRegistry');
  const { closePrisma } = await import('@/lib/store/client');
  const prepared = await prepareRegistry(openRegistry());
  // From here on only the children ask the database; what stays is the hold on the embedded server.
  await closePrisma();
  return prepared;
}

async function stopAll(): Promise<void> {
  for (const part of running.reverse()) {
    await part.stop().catch((error: unknown) => {
      process.exitCode = 1;
      console.error(error instanceof Error ? error.message : error);
    });
  }
}

try {
  await main();
} catch (error) {
  if (!wanted.signal.aborted) {
    process.exitCode = 1;
    console.error(error instanceof Error ? error.message : error);
  }
}
await stopAll();
