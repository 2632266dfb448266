// Node loads no TypeScript in a new thread by itself, whatever its parent was started with.
import { workerData } from 'node:worker_threads';
import { register } from 'tsx/esm/api';

register();
await import(workerData.entry);
