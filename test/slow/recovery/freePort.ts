import { createServer } from 'node:net';

/** A port that nobody uses at the moment. */
export function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const bound = probe.address();
      probe.close(() =>
        typeof bound === 'object' && bound ? resolve(bound.port) : reject(new Error('No port.')),
      );
    });
  });
}
