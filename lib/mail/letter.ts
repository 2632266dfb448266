/** One letter, in plain text: short enough to be read whole, without pictures, scripts or counted links. */
export interface Letter {
  to: string;
  subject: string;
  text: string;
}

/** Where letters go. What is handed over is kept until it was sent. */
export interface Outbox {
  put(letter: Letter, at: Date): Promise<void>;
}
