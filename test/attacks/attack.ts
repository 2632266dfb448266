/** What became of an attack: refused or flagged counts as held; anything else says what it reached. */
export type Outcome = 'refused' | 'flagged' | `reached: ${string}`;

export interface Attack {
  name: string;
  run: () => Promise<Outcome>;
}

/** Held where the work is refused by an error of the registry's own; a fault or a success is not. */
export async function refusedBy(
  work: Promise<unknown>,
  ...errors: (new (
    ...args: never[]
  ) => Error)[]
): Promise<Outcome> {
  try {
    const got = await work;
    return `reached: ${JSON.stringify(got)?.slice(0, 80) ?? 'nothing said'}`;
  } catch (error) {
    if (errors.some((one) => error instanceof one)) return 'refused';
    return `reached: a fault, ${String(error).slice(0, 120)}`;
  }
}

/** Each in its turn, as some wait by counts that others raise; gives back those that were not held. */
export async function runAttacks(attacks: readonly Attack[]): Promise<{ held: number; reached: string[] }> {
  const reached: string[] = [];
  for (const { name, run } of attacks) {
    const outcome = await run().catch((error): Outcome => `reached: a fault, ${String(error).slice(0, 200)}`);
    if (outcome !== 'refused' && outcome !== 'flagged') reached.push(`${name}: ${outcome}`);
  }
  return { held: attacks.length - reached.length, reached };
}
