import { createServer } from 'node:net';

const defaultPort = 3000;
const tries = 50;

export type ChosenPort = { readonly port: number; readonly note?: string };

/** A port that was asked for must be free; the default gives way to the next free one, and says so. */
export async function choosePort(host: string, asked: string | undefined): Promise<ChosenPort> {
  if (asked) {
    const port = Number(asked);
    if (!Number.isInteger(port) || port < 1 || port > 65_535)
      throw new Error(`PORT=${asked} is not a port number.`);
    if (await isFree(host, port)) return { port };
    throw new Error(`Port ${port} (from PORT) is taken: stop what uses it, or give another one.`);
  }
  for (let port = defaultPort; port < defaultPort + tries; port += 1) {
    if (!(await isFree(host, port))) continue;
    return port === defaultPort
      ? { port }
      : { port, note: `Port ${defaultPort} is taken, so this is port ${port}.` };
  }
  throw new Error(`No free port from ${defaultPort} to ${defaultPort + tries - 1}: name one in PORT.`);
}

function isFree(host: string, port: number): Promise<boolean> {
  return new Promise((resolve) => {
    const probe = createServer();
    probe.once('error', () => resolve(false));
    probe.listen({ host, port, exclusive: true }, () => probe.close(() => resolve(true)));
  });
}
