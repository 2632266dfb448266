/** Where the card's page lives: the service worker's scope too, so that no other page goes through it. */
const FIELD_ADDRESS = '/field';

/**
 * Has the service worker keep this page and everything it loaded, for a start without a signal. True once all of it
 * is kept; false where the browser has no such worker (a private window, an insecure address).
 */
export async function keepShell(): Promise<boolean> {
  if (!('serviceWorker' in navigator)) return false;
  try {
    await navigator.serviceWorker.register('/sw.js', { scope: FIELD_ADDRESS });
    const { active } = await navigator.serviceWorker.ready;
    if (active === null) return false;
    const loaded = performance
      .getEntriesByType('resource')
      .map(({ name }) => new URL(name))
      .filter(({ origin, pathname }) => origin === location.origin && pathname.startsWith('/_next/static/'))
      .map(({ pathname }) => pathname);
    return await answerOf(active, { kind: 'keep', loaded });
  } catch {
    return false;
  }
}

function answerOf(worker: ServiceWorker, message: object): Promise<boolean> {
  return new Promise((resolve) => {
    const channel = new MessageChannel();
    channel.port1.onmessage = (event) => resolve(event.data === 'kept');
    worker.postMessage(message, [channel.port2]);
  });
}
