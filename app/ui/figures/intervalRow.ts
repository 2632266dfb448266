export interface IntervalRow {
  key: string;
  label: string;
  href?: string;
  /** What else tells the row apart: factor levels, variant. */
  detail?: string;
  /** Not a number where there is none to draw. */
  estimate: number;
  /** A wider interval, drawn thin behind the first. */
  outerLow?: number;
  outerHigh?: number;
  /** Ends of a third interval between the two, as strokes on the thin line. */
  strokes?: readonly [number, number];
  /** Left out where a row has no interval of its own. */
  low?: number;
  high?: number;
  /** The estimate, ready to read. */
  text: string;
  /** "193.8 to 199.1", or why there is none. */
  intervalText?: string;
  /** "12 runs · 3 cars · 2 testers · 1 loop". */
  counts?: string;
  /** "rank 3–9 of 40". */
  rank?: string;
  /** What it is held against and how sure that is, with the comparison; `more` is for who hears it only. */
  against?: { text: string; more?: string; href?: string };
  /** What its layout leaves unseen: "one car: …". */
  caveat?: string;
  muted?: boolean;
  /** A second, hollow mark: the number before normalising. */
  before?: { value: number; text: string };
}

/** An interval beside its number stands in brackets, as everywhere; that there is none stands as it is. */
export const bracketed = (text: string | undefined) =>
  text !== undefined && /\d/.test(text) ? `(${text})` : text;
