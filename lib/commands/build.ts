import { buildWeb } from './serve/webBuild';

/** `npm run build`: what `npm start` does by itself when the sources have changed. */
buildWeb().catch((error: unknown) => {
  console.error(error instanceof Error ? error.message : error);
  process.exitCode = 1;
});
