import { afterAll, beforeAll, describe } from 'vitest';
import { type FilledApp, filledApp, MINUTE_MS } from './filledApp';
import { comesBackInMidWork } from './killsInMidWork';

let app: FilledApp;
beforeAll(async () => {
  app = await filledApp();
}, 400_000);
afterAll(() => app?.stop(), MINUTE_MS);

describe('killing the postmaster', () => {
  comesBackInMidWork(
    () => app,
    ({ postmasterPid }) => postmasterPid(),
  );
});
