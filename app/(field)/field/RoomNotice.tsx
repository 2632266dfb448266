import { useEffect, useState } from 'react';
import { Notice } from '@/app/ui/Notice';
import { littleRoomMb } from './room';
import type { KeptRun } from './useField';

/** Says that storage is nearly full while there is still room for what is being noted. */
export function RoomNotice({ kept }: { kept: readonly KeptRun[] }) {
  const [leftMb, setLeftMb] = useState<number>();
  const photos = kept.reduce((sum, one) => sum + one.photos.length, 0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: each photo kept or sent changes what is left
  useEffect(() => {
    let isOver = false;
    const look = async () => {
      const room = (await navigator.storage?.estimate?.()) ?? {};
      if (!isOver) setLeftMb(littleRoomMb(room));
    };
    look().catch(() => setLeftMb(undefined));
    return () => {
      isOver = true;
    };
  }, [photos, kept.length]);
  if (leftMb === undefined) return null;
  return (
    <Notice kind="caution" title={`This phone’s storage is nearly full: about ${leftMb} MB left.`} live>
      Numbers still fit, photos may not. Remove runs that are sent, or free some space, before you take more.
    </Notice>
  );
}
