import type { BlobStore } from '@/lib/files/blobStore';
import type { WorldKey } from '@/lib/run/world';
import type { Database } from '@/lib/store/database';

/** The ports that the use cases work through. The clock is one of them: nothing below reads the time itself. */
export interface Registry {
  db: Database;
  blobs: BlobStore;
  now: () => Date;
  /** Everything made through this registry is marked as belonging to the demo world. */
  world: WorldKey;
}
