import { parseArgs } from 'node:util';
import { dataFolderFromEnvironment } from '@/lib/store/server/dataFolder';
import { sessionSecret } from '@/lib/store/server/keptSecret';
import { choosePort } from './serve/choosePort';
import { buildWeb, generateClient, isBuildCurrent } from './serve/webBuild';
import { answers, startWeb } from './serve/webProcess';
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

/** `npm start` and `npm run dev`: everything the app needs, in one process and one child. */
async function main(): Promise<void> {
  const host = process.env.HOST || '127.0.0.1';
  const { port, note } = await choosePort(host, process.env.PORT);
  if (options.dev) await generateClient(wanted.signal);
  else if (!(await isBuildCurrent())) {
    console.log('Building the app (the first time, or its sources have changed) …');
    await buildWeb(wanted.signal);
  }

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

  const web = startWeb(options.dev ? 'dev' : 'start', { host, port });
  running.push(web);
  wanted.signal.addEventListener('abort', () => web.stop());
  // The web process loads while the registry is made ready; neither waits for the other.
  const [prepared, isUp] = await Promise.all([prepare(), answers(`http://${host}:${port}`, web)]);
  wanted.signal.throwIfAborted();
  if (!isUp) throw new Error('The web process ended or did not answer; what it wrote is above.');
  console.log(welcome({ address, note, place: store.place, ...prepared }));

  await web.ended;
  if (!wanted.signal.aborted) throw new Error('The web process ended unexpectedly.');
}

/** Reference data, the first steward's code, and the worker that does what pages leave to the background. */
async function prepare() {
  const { openRegistry } = await import('@/lib/registry/openRegistry');
  const { prepareRegistry } = await import('@/lib/registry/prepareRegistry');
  const { startWorker } = await import('@/lib/registry/runJobs');
  const registry = openRegistry();
  const prepared = await prepareRegistry(registry);
  running.push(startWorker(registry, (error) => console.error(error)));
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
