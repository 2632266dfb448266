import { chown, mkdtemp } from 'node:fs/promises';
import { createServer } from 'node:net';
import { platform, tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Postmaster } from './postmaster';
import type { ServerUser } from './serverUser';

/** Where a server is to listen: a socket folder, or a port on this machine only. */
export type Endpoint =
  | { readonly socketFolder: string }
  | { readonly address: string; readonly port: number };

/** The port names the socket file; no port is opened. */
const socketPort = 5432;

/** `sun_path` holds 108 bytes on Linux and 104 on macOS, with `/.s.PGSQL.5432` and the final zero. */
const longestSocketPath = 100;

/**
 * Chooses where a new server listens: a Unix socket in the private data folder (nobody else can reach
 * it, so no port and no password on the wire); in a private folder of the system's temporary one when
 * that path is too long; a free local port with a password where there are no sockets.
 */
export async function chooseEndpoint(
  dataFolder: string,
  user: ServerUser | undefined,
  hasSockets = platform() !== 'win32',
): Promise<Endpoint> {
  if (!hasSockets) return localPort();
  if (fits(dataFolder)) return { socketFolder: dataFolder };
  for (const parent of [tmpdir(), '/tmp']) {
    if (!fits(join(parent, 'evenloop-XXXXXX'))) continue;
    // mkdtemp makes the folder with mode 0700.
    const socketFolder = await mkdtemp(join(parent, 'evenloop-'));
    if (user) await chown(socketFolder, user.uid, user.gid);
    return { socketFolder };
  }
  return localPort();
}

function fits(folder: string): boolean {
  return Buffer.byteLength(join(folder, `.s.PGSQL.${socketPort}`)) <= longestSocketPath;
}

async function localPort(): Promise<Endpoint> {
  const address = '127.0.0.1';
  return { address, port: await freePort(address) };
}

function freePort(address: string): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', reject);
    probe.listen(0, address, () => {
      const bound = probe.address();
      probe.close(() =>
        typeof bound === 'object' && bound ? resolve(bound.port) : reject(new Error('No port.')),
      );
    });
  });
}

/** The server's settings for an endpoint, as command-line arguments. */
export function endpointSettings(endpoint: Endpoint): string[] {
  if ('socketFolder' in endpoint) {
    return [
      ...['-c', 'listen_addresses='],
      ...['-c', `unix_socket_directories=${endpoint.socketFolder}`],
      ...['-c', 'unix_socket_permissions=0700'],
      ...['-c', `port=${socketPort}`],
    ];
  }
  return [
    ...['-c', `listen_addresses=${endpoint.address}`],
    ...['-c', 'unix_socket_directories='],
    ...['-c', `port=${endpoint.port}`],
  ];
}

/** Host and port for a client, from what the running server wrote about itself. */
export function clientAddress(postmaster: Postmaster): { host: string; port: number } {
  return { host: postmaster.socketFolder || postmaster.address, port: postmaster.port };
}

/** The endpoint that a client's address belongs to: where a server that was lost is to listen again. */
export function endpointOf({ host, port }: { host: string; port: number }): Endpoint {
  return host.startsWith('/') ? { socketFolder: host } : { address: host, port };
}
