import type { Registry } from '@/lib/registry/registry';
import { askForTest } from '@/lib/registry/requests/askForTest';
import { backRequest } from '@/lib/registry/requests/voices';
import type { DemoRequestEvent } from './events';
import { type FleetIds, found } from './loadFleet';
import type { People } from './loadPeople';
import { registryAt } from './simulatedTime';

export interface RequestParts {
  people: People;
  fleet: FleetIds;
  /** By key, filled as requests are made. */
  requestIds: Map<string, string>;
}

/** Lets the people of the demo world ask for tests and back what others ask for, each at its own time. */
export async function playRequestEvent(
  registry: Registry,
  { people, fleet, requestIds }: RequestParts,
  event: DemoRequestEvent,
): Promise<void> {
  const { request } = event;
  const then = registryAt(registry, event.at);
  if (event.kind === 'voice') {
    const requestId = found(requestIds, request.key);
    return backRequest(then, found(people, event.personKey), { requestId, wants: 'back' });
  }
  const pair = [request.baselineKey, request.setupKey].map((key) => found(fleet.setups, key));
  const { requestId } = await askForTest(then, found(people, request.askedBy), {
    modelId: found(fleet.models, request.modelKey),
    cruiseClassKey: request.cruiseClassKey,
    pair: `setups ${pair.join(' ')}`,
    question: request.question,
  });
  requestIds.set(request.key, requestId);
}
