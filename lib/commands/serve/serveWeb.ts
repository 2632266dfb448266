import { createServer, type Server } from 'node:http';
import type next from 'next';
import { boundErrors } from '../log/boundErrors';
import { builtFiles } from './builtFiles';
import { webListener } from './webListener';

export type WebPlace = { readonly isDev: boolean; readonly host: string; readonly port: number };

/** What is in hand when the server is to stop may take this long. */
const FINISHING_MS = 8_000;

/** The web process: our HTTP server around the framework's handler, until told to end or left by its parent. */
export async function serveWeb(makeApp: typeof next, { isDev, host, port }: WebPlace): Promise<void> {
  boundErrors();
  const server = createServer();
  // Headers at once; a body may be 16 MB of photos over a phone's connection.
  server.headersTimeout = 20_000;
  server.requestTimeout = 180_000;
  // Longer than proxies keep theirs, so that none sends into a connection that is closing.
  server.keepAliveTimeout = 65_000;
  const app = makeApp({ dev: isDev, dir: process.cwd(), hostname: host, port, httpServer: server });
  const handler = app.getRequestHandler();
  server.on('request', webListener(isDev ? handler : builtFiles('.next', handler), isDev));

  let isEnding = false;
  const end = async () => {
    if (isEnding) return;
    isEnding = true;
    await finish(server);
    process.exit(0);
  };
  for (const signal of ['SIGTERM', 'SIGINT'] as const) process.on(signal, end);
  // The channel carries nothing: its closing says that the process that started us is gone.
  process.once('disconnect', end);

  await app.prepare();
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen({ host, port }, resolve);
  });
}

/** Takes no more connections, lets what is in hand finish for a while, then closes what is left. */
async function finish(server: Server): Promise<void> {
  const closed = new Promise<void>((resolve) => server.close(() => resolve()));
  server.closeIdleConnections();
  // Connections that were busy a moment ago and are kept alive hold up the end otherwise.
  const sweeping = setInterval(() => server.closeIdleConnections(), 100);
  const patience = setTimeout(() => server.closeAllConnections(), FINISHING_MS);
  await closed;
  clearInterval(sweeping);
  clearTimeout(patience);
}
