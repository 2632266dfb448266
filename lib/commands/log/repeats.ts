/** What to do with a message: print it, or not, because it was printed a moment ago. */
export interface Admission {
  isPrinted: boolean;
}

export interface RepeatedMessage {
  /** The message as it was printed first; empty for those beyond the most that are told apart. */
  message: string;
  /** How often it came again and was not printed. */
  times: number;
}

export interface RepeatLimits {
  windowMs: number;
  /** Messages told apart within a window; what comes beyond is only counted. */
  most: number;
}

export const REPEAT_LIMITS: RepeatLimits = { windowMs: 60_000, most: 100 };

const KEY_LENGTH = 400;

/**
 * Counts messages that come again within a window instead of printing them again, so that a fault that every request
 * meets writes lines by the minute, not by the request. Own rule of thumb; the clock is the caller's.
 */
export class Repeats {
  private readonly seen = new Map<string, RepeatedMessage>();
  private beyond = 0;
  private startedAtMs = Number.NEGATIVE_INFINITY;

  constructor(private readonly limits: RepeatLimits = REPEAT_LIMITS) {}

  /** Whether the message is printed. `summary` is what the window that just ended held back: to be told once. */
  admit(message: string, nowMs: number): Admission & { summary: RepeatedMessage[] } {
    const summary = this.summaryAt(nowMs);
    if (!(nowMs - this.startedAtMs < this.limits.windowMs)) this.startedAtMs = nowMs;
    const key = likeness(message);
    const before = this.seen.get(key);
    if (before !== undefined) {
      before.times += 1;
      return { isPrinted: false, summary };
    }
    if (this.seen.size >= this.limits.most) {
      this.beyond += 1;
      return { isPrinted: false, summary };
    }
    this.seen.set(key, { message, times: 0 });
    return { isPrinted: true, summary };
  }

  /** What was held back in the window, once it is over; nothing before. */
  summaryAt(nowMs: number): RepeatedMessage[] {
    if (nowMs - this.startedAtMs < this.limits.windowMs) return [];
    const held = [...this.seen.values()].filter(({ times }) => times > 0);
    if (this.beyond > 0) held.push({ message: '', times: this.beyond });
    this.seen.clear();
    this.beyond = 0;
    return held;
  }
}

/** Messages that differ in numbers, ids and digests alone are one message. */
function likeness(message: string): string {
  return message.slice(0, KEY_LENGTH).replace(/[0-9a-f]*\d[0-9a-f-]*/gi, '#');
}
