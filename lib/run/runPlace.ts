/** Where a run stands in a list that is ordered by day and number: what the next page of the list begins after. */
export interface RunPlace {
  /** yyyy-mm-dd at the loop. */
  date: string;
  number: number;
}

const MOST_NUMBER = 2_147_483_647;

/** As it stands in an address. */
export function placeText({ date, number }: RunPlace): string {
  return `${date}.${number}`;
}

/** Undefined for what is no place: an address typed by hand opens the first page. */
export function parsePlace(text: string | undefined): RunPlace | undefined {
  const [, date, digits] = /^(\d{4}-\d{2}-\d{2})\.(\d{1,10})$/.exec(text ?? '') ?? [];
  if (date === undefined || digits === undefined) return undefined;
  const day = new Date(`${date}T00:00:00Z`);
  const number = Number(digits);
  // a day that the calendar does not have rolls over or is no time at all
  if (Number.isNaN(day.getTime()) || day.toISOString().slice(0, 10) !== date || number > MOST_NUMBER)
    return undefined;
  return { date, number };
}
