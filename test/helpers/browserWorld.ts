import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** Where the browser tests find the app, and where that app keeps its data: known to both sides. */
export const browserPort = Number(process.env.EVENLOOP_BROWSER_PORT ?? 23_917);
export const browserAddress = `http://127.0.0.1:${browserPort}`;
export const browserDataFolder = join(tmpdir(), `evenloop-browser-${browserPort}`);

/** The password of every person of the demo world that the browser tests sign in as. */
export const demoPassword = 'browser tests keep no secrets';

/** The registry’s own steward, whose say does not end with the demo world; the password is the same. */
export const registrySteward = { email: 'ines@rook.example', displayName: 'Ines Rook' };
