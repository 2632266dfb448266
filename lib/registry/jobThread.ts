import { serveJobs } from '@/lib/jobs/serveJobs';
import { closePrisma } from '@/lib/store/client';
import { jobHandlers } from './jobHandlers';
import { openRegistry } from './openRegistry';

// The thread in which the background computes: a registry of its own, on the same database.
const registry = openRegistry();
serveJobs((attempt) => jobHandlers(registry, attempt), closePrisma);
