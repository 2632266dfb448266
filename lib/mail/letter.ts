/** One letter, in plain text: short enough to be read whole, without pictures, scripts or counted links. */
export interface Letter {
  to: string;
  subject: string;
  text: string;
  /** Where a letter that was chosen is ended: what takes the button of mail programs (RFC 8058). */
  unsubscribe?: string;
  /** Whose choice it was to get it: by that it is asked for once more before it leaves. */
  accountId?: string;
}

/** A letter that is kept aside until what it says is marked as said: of which notice, and when. */
export interface HeldLetter {
  at: Date;
  noticeId: string;
}

/** Where letters go. What is handed over is kept until it was sent. */
export interface Outbox {
  put(letter: Letter, at: Date): Promise<void>;
}

/**
 * Where letters go that must be written once: held before their notices are marked in the database, handed over after
 * it. Whatever was held when a process died is handed over or dropped by what the database says.
 */
export interface HoldingOutbox extends Outbox {
  hold(letter: Letter, of: HeldLetter): Promise<void>;
  held(): Promise<HeldLetter[]>;
  handOver(of: HeldLetter): Promise<void>;
  drop(of: HeldLetter): Promise<void>;
}
