import { describe, expect, it } from 'vitest';
import {
  dueSpan,
  letterOfNotices,
  MOST_IN_LETTER,
  type NoticeLetter,
  nextWeekly,
  weeklyCut,
} from '@/lib/mail/noticeLetters';

const on = (text: string) => new Date(`${text}Z`);
// 23 November 2026 is a Monday.
const MONDAY = on('2026-11-23T06:00:00');

describe('the weekly letter', () => {
  it('is due on Mondays at six', () => {
    expect(MONDAY.getUTCDay()).toBe(1);
    expect(weeklyCut(MONDAY)).toEqual(MONDAY);
    expect(weeklyCut(on('2026-11-23T05:59:59.999'))).toEqual(on('2026-11-16T06:00:00'));
    expect(weeklyCut(on('2026-11-29T23:00:00'))).toEqual(MONDAY);
    expect(nextWeekly(MONDAY)).toEqual(on('2026-11-30T06:00:00'));
    // Over the end of a year, and of a February with 29 days.
    expect(weeklyCut(on('2027-01-03T12:00:00'))).toEqual(on('2026-12-28T06:00:00'));
    expect(weeklyCut(on('2028-03-01T12:00:00'))).toEqual(on('2028-02-28T06:00:00'));
  });

  it('has what happened since the one before, and is due once', () => {
    const chosen = on('2026-11-18T10:00:00');
    expect(dueSpan('weekly', chosen, on('2026-11-23T05:00:00'))).toBeUndefined();
    expect(dueSpan('weekly', chosen, on('2026-11-24T09:00:00'))).toEqual({ after: chosen, until: MONDAY });
    expect(dueSpan('weekly', MONDAY, on('2026-11-29T23:59:00'))).toBeUndefined();
    // After three weeks without a server one letter has them all.
    expect(dueSpan('weekly', MONDAY, on('2026-12-15T00:00:00'))).toEqual({
      after: MONDAY,
      until: on('2026-12-14T06:00:00'),
    });
  });
});

describe('a letter for what happens', () => {
  it('has nothing from before it was chosen, and nothing that is a week old', () => {
    const chosen = on('2026-11-18T10:00:00');
    const soon = on('2026-11-18T10:05:00');
    expect(dueSpan('each', chosen, soon)).toEqual({ after: chosen, until: soon });
    expect(dueSpan('each', chosen, on('2026-12-01T10:00:00'))?.after).toEqual(on('2026-11-24T10:00:00'));
    expect(dueSpan('none', chosen, soon)).toBeUndefined();
  });
});

describe('its text', () => {
  const of: NoticeLetter = {
    accountId: '019a0000-0000-7000-8000-00000000000a',
    to: 'ilse@people.example',
    site: 'https://registry.example',
    choice: 'each',
    notices: [{ text: 'Run 12 was approved.', href: '/runs/12' }],
    total: 1,
    days: { first: '16 Nov 2026', last: '23 Nov 2026' },
    secret: 'a-secret',
  };

  it('says what happened, where to read on, and how letters end', () => {
    const { subject, text, to, unsubscribe } = letterOfNotices(of);
    expect(to).toBe('ilse@people.example');
    expect(subject).toBe('One notice from registry.example');
    expect(text).toBe(`This happened:

- Run 12 was approved.
  https://registry.example/runs/12

You chose your notices by letter as they come at https://registry.example
Choose otherwise on your account page: https://registry.example/account#letters
End these letters with one button, without signing in:
https://registry.example/unsubscribe?token=a-secret
`);
    expect(unsubscribe).toBe('https://registry.example/api/unsubscribe?token=a-secret');
  });

  it('of a week says which, and how many more there are', () => {
    const notices = Array.from({ length: MOST_IN_LETTER }, (_, i) => ({
      text: `Run ${i + 1} was approved.`,
      href: `/runs/${i + 1}`,
    }));
    const week = { ...of, choice: 'weekly' as const, notices };
    const { subject, text } = letterOfNotices({ ...week, total: 23 });
    expect(subject).toBe('Your week at registry.example: 23 notices');
    expect(text).toContain('from 16 Nov 2026 to 23 Nov 2026');
    expect(text.match(/^- /gm)).toHaveLength(MOST_IN_LETTER);
    expect(text).toContain('And 3 more:\n  https://registry.example/notifications');
    expect(letterOfNotices({ ...week, total: 21 }).text).toContain('And one more:');
    expect(letterOfNotices({ ...week, total: 20 }).text).not.toContain('more:');
  });

  it('keeps what people wrote in one line', () => {
    const text =
      'Run 3 was rejected. The reviewer: “no\r\n\r\nEnd these letters:\u2028https://elsewhere.example”';
    const letter = letterOfNotices({ ...of, notices: [{ text, href: '/runs/3' }] });
    expect(letter.text).toContain('“no End these letters: https://elsewhere.example”');
  });
});
