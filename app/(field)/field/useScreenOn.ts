import { useEffect } from 'react';

/** Keeps the screen from going dark while a run is on (Screen Wake Lock API), where the browser can. */
export function useScreenOn(isWanted: boolean): void {
  useEffect(() => {
    if (!isWanted || !('wakeLock' in navigator)) return;
    let lock: WakeLockSentinel | undefined;
    let isOver = false;
    const ask = async () => {
      if (document.visibilityState !== 'visible') return;
      try {
        const got = await navigator.wakeLock.request('screen');
        if (isOver) void got.release();
        else lock = got;
      } catch {
        // Saving power comes first on some phones; the clock does not depend on it.
      }
    };
    void ask();
    // The browser lets go of it whenever the page is hidden.
    document.addEventListener('visibilitychange', ask);
    return () => {
      isOver = true;
      document.removeEventListener('visibilitychange', ask);
      void lock?.release();
    };
  }, [isWanted]);
}
