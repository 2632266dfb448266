/** The number of a run as an address writes it: digits without leading zeros, within what the database counts to. */
export function runNumber(text: string): number | undefined {
  return /^[1-9]\d{0,8}$/.test(text) ? Number(text) : undefined;
}
