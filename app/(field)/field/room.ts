/**
 * A photo that a phone has made smaller takes up to a megabyte, and one that it could not shrink about ten: below this
 * a day of runs may not fit any more. Our own judgement.
 */
const LITTLE_BYTES = 60_000_000;
const MEGABYTE = 1_000_000;

/** What the browser says of its storage (Storage Standard, StorageManager.estimate()), in bytes. */
export interface Room {
  usage?: number;
  quota?: number;
}

/** Whole megabytes left where that is little; undefined where there is room enough, or the browser tells nothing. */
export function littleRoomMb({ usage, quota }: Room): number | undefined {
  if (usage === undefined || quota === undefined || quota <= 0) return undefined;
  const left = Math.max(0, quota - usage);
  return left < LITTLE_BYTES ? Math.floor(left / MEGABYTE) : undefined;
}
