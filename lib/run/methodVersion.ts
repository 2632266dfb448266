import type { WorldKey } from '@/lib/run/world';
/**
 * The label of a method version: that of the engine, and what was adopted beside it. Worlds adopt apart, so
 * equal ordinals in them are different versions: "1+priors1+learned2", "1+priors1+demoLearned2".
 */
export function methodLabel(engine: string, adopted: { ordinal: number; world: WorldKey } | null): string {
  if (adopted === null) return engine;
  return `${engine}+${learnedIn(adopted.world)}${adopted.ordinal}`;
}

function learnedIn(world: WorldKey): string {
  if (world === 'record') return 'learned';
  return world === 'demo' ? 'demoLearned' : `${world}:learned`;
}

/** Whether a result of this label was made by the engine named, with or without adopted road loads. */
export function isOfEngine(label: string, engine: string): boolean {
  return label === engine || label.startsWith(`${engine}+`);
}
