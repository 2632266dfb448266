import { Overloaded } from '@/lib/run/errors';
import { pngFile } from './pictureFile';

/** As many finished pictures are kept as a popular page has, and as few are drawn at once as leave the server free. */
const KEPT = 48;
const AT_ONCE = 2;
const WAITING = 24;

const kept = new Map<string, Promise<Uint8Array>>();
const queue: (() => void)[] = [];
let busy = 0;

/** The PNG of a piece of markup, drawn once for all who ask for it by the same tag. */
export function renderedPng(tag: string, markup: string): Promise<Uint8Array> {
  const known = kept.get(tag);
  if (known) return known;
  const picture = inTurn(() => pngFile(markup));
  kept.set(tag, picture);
  picture.catch(() => kept.delete(tag));
  const [oldest] = kept.keys();
  if (kept.size > KEPT && oldest !== undefined) kept.delete(oldest);
  return picture;
}

async function inTurn<T>(work: () => Promise<T>): Promise<T> {
  if (busy >= AT_ONCE) {
    if (queue.length >= WAITING)
      throw new Overloaded('Too many pictures are being drawn at this moment. Try again soon.');
    await new Promise<void>((go) => queue.push(go));
  }
  busy += 1;
  try {
    return await work();
  } finally {
    busy -= 1;
    queue.shift()?.();
  }
}
