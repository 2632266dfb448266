/**
 * The label of a method version: that of the engine, and what was adopted beside it. The record and the demo world
 * adopt apart, so equal ordinals in them are different versions: "1+priors1+learned2", "1+priors1+demoLearned2".
 */
export function methodLabel(engine: string, adopted: { ordinal: number; isDemo: boolean } | null): string {
  if (adopted === null) return engine;
  return `${engine}+${adopted.isDemo ? 'demoLearned' : 'learned'}${adopted.ordinal}`;
}

/** Whether a result of this label was made by the engine named, with or without adopted road loads. */
export function isOfEngine(label: string, engine: string): boolean {
  return label === engine || label.startsWith(`${engine}+`);
}
