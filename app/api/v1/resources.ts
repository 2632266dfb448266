import type { Resource } from './resource';
import { comparisons } from './resources/comparisons';
import { factor, factors } from './resources/factors';
import { loop, loops } from './resources/loops';
import { method } from './resources/method';
import { model, models } from './resources/models';
import { protocol, protocolVersion } from './resources/protocol';
import { rankings } from './resources/rankings';
import { run, runs } from './resources/runs';
import { setup, setups } from './resources/setups';
import { studies, study } from './resources/studies';

/** Everything that programs may read, in the order of its page. */
export const RESOURCES: readonly Resource[] = [
  rankings,
  comparisons,
  setups,
  setup,
  models,
  model,
  factors,
  factor,
  runs,
  run,
  loops,
  loop,
  studies,
  study,
  protocol,
  protocolVersion,
  method,
];

export interface Found {
  readonly resource: Resource;
  readonly path: Readonly<Record<string, string>>;
}

/** What stands at an address below /api/v1, with the parts that its braces took. */
export function resourceAt(segments: readonly string[]): Found | undefined {
  for (const resource of RESOURCES) {
    const wanted = resource.path.slice(1).split('/');
    if (wanted.length !== segments.length) continue;
    const path = new Map<string, string>();
    const fits = wanted.every((part, index) => {
      const given = segments[index] ?? '';
      if (!part.startsWith('{')) return part === given;
      path.set(part.slice(1, -1), given);
      return given !== '';
    });
    if (fits) return { resource, path: Object.fromEntries(path) };
  }
  return undefined;
}
