import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MOST_VIDEO_S, parseVideoTime, showVideoTime, videoList } from '@/lib/study/videoTimes';

describe('times in a video', () => {
  it('reads minutes and hours, and nothing else', () => {
    expect(parseVideoTime('0:00')).toBe(0);
    expect(parseVideoTime(' 3:07 ')).toBe(187);
    expect(parseVideoTime('83:07')).toBe(4987);
    expect(parseVideoTime('1:23:07')).toBe(4987);
    expect(parseVideoTime('23:59:59')).toBe(MOST_VIDEO_S);
    for (const text of [
      '',
      '7',
      '3:7',
      '3:60',
      '1:60:00',
      '1:2:03',
      '-1:00',
      '3.07',
      '24:00:00',
      '1:00:00:00',
    ])
      expect(parseVideoTime(text), text).toBeUndefined();
  });

  it('reads back what it shows', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: MOST_VIDEO_S }), (seconds) => {
        expect(parseVideoTime(showVideoTime(seconds))).toBe(seconds);
      }),
      { seed: 4 },
    );
  });

  it('lists in the order of the video, from 0:00 on', () => {
    const marks = [
      { atS: 4987, words: 'Day 1, run 2: Ride height: low' },
      { atS: 187, words: 'Day 1, run 1:\nAs delivered' },
    ];
    expect(videoList('Does it use less?', marks)).toBe(
      '0:00 Does it use less?\n3:07 Day 1, run 1: As delivered\n1:23:07 Day 1, run 2: Ride height: low',
    );
    expect(videoList('Does it use less?', [{ atS: 0, words: 'Day 1, run 1' }])).toBe('0:00 Day 1, run 1');
  });
});
