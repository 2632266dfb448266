import { useCallback, useEffect, useRef, useState } from 'react';
import type { FormPhoto } from '@/lib/registry/runs/recordForm';
import type { PhotoMark } from '@/lib/run/photoMarks';
import { sendMarks } from './sendPhoto';

const SOON_MS = 500;

/**
 * The marks on one photo as drawn, and the keeping of them. One request is on its way at a time, and the latest marks
 * go next, so that what was drawn last is what is kept. What waits is sent when the photo is closed.
 */
export function useMarks(runId: string, photo: FormPhoto, onPhotos: (photos: readonly FormPhoto[]) => void) {
  const [marks, setMarks] = useState(photo.marks);
  const [news, setNews] = useState('');
  const waiting = useRef<readonly PhotoMark[]>(undefined);
  const isSending = useRef(false);
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined);

  const flush = useCallback(async () => {
    clearTimeout(timer.current);
    if (isSending.current) return;
    isSending.current = true;
    while (waiting.current !== undefined) {
      const next = waiting.current;
      waiting.current = undefined;
      const answer = await sendMarks(runId, photo.id, next);
      if (answer.ok) onPhotos(answer.photos);
      setNews(answer.ok ? 'Kept with the draft.' : `Not kept: ${answer.error.what}`);
    }
    isSending.current = false;
  }, [runId, photo.id, onPhotos]);

  const keep = (next: readonly PhotoMark[]) => {
    setMarks(next);
    waiting.current = next;
    void flush();
  };
  const keepSoon = (next: readonly PhotoMark[]) => {
    setMarks(next);
    waiting.current = next;
    clearTimeout(timer.current);
    timer.current = setTimeout(() => void flush(), SOON_MS);
  };

  const latest = useRef(flush);
  latest.current = flush;
  useEffect(() => () => void latest.current(), []);
  return { marks, news, keep, keepSoon };
}
