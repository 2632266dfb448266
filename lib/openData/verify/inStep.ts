import type { Row } from '../column';

/** Rows that come in the order of a key, taken key by key: only those of one are in hand. */
export class InStep {
  readonly #rows: AsyncIterator<Row>;
  readonly #column: string;
  #next: Row | undefined;
  #isBegun = false;

  constructor(rows: AsyncIterable<Row>, column: string) {
    this.#rows = rows[Symbol.asyncIterator]();
    this.#column = column;
  }

  /** The rows of a key, which comes after those that were asked for before. */
  async take(key: unknown): Promise<Row[]> {
    if (!this.#isBegun) await this.#advance();
    this.#isBegun = true;
    const taken: Row[] = [];
    while (this.#next !== undefined && this.#next[this.#column] === key) {
      taken.push(this.#next);
      await this.#advance();
    }
    return taken;
  }

  async #advance(): Promise<void> {
    const { done, value } = await this.#rows.next();
    this.#next = done ? undefined : value;
  }
}
