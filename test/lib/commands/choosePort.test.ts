import { createServer, type Server } from 'node:net';
import { afterEach, describe, expect, it } from 'vitest';
import { choosePort } from '@/lib/commands/serve/choosePort';

const host = '127.0.0.1';
const servers: Server[] = [];

afterEach(async () => {
  for (const server of servers.splice(0)) await new Promise((closed) => server.close(closed));
});

/** Takes a port; 0 lets the system choose. Undefined when somebody else has it already. */
function take(port: number): Promise<number | undefined> {
  return new Promise((resolve) => {
    const server = createServer();
    server.once('error', () => resolve(undefined));
    server.listen({ host, port, exclusive: true }, () => {
      servers.push(server);
      const address = server.address();
      resolve(typeof address === 'object' && address ? address.port : undefined);
    });
  });
}

describe('choosePort', () => {
  it('refuses a port that was asked for and is taken', async () => {
    const taken = await take(0);
    await expect(choosePort(host, String(taken))).rejects.toThrow(`Port ${taken} (from PORT) is taken`);
  });

  it('takes a free port that was asked for, without a note', async () => {
    const port = await take(0);
    for (const server of servers.splice(0)) await new Promise((closed) => server.close(closed));
    expect(await choosePort(host, String(port))).toEqual({ port });
  });

  it('passes over the default when it is taken, and says so', async () => {
    await take(3000);
    const chosen = await choosePort(host, undefined);
    expect(chosen.port).toBeGreaterThan(3000);
    expect(chosen.note).toBe(`Port 3000 is taken, so this is port ${chosen.port}.`);
  });

  it.each(['http', '0', '65536', '3000.5'])('refuses %s as no port number', async (asked) => {
    await expect(choosePort(host, asked)).rejects.toThrow(`PORT=${asked} is not a port number.`);
  });
});
