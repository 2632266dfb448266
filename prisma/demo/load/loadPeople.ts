import { setRole } from '@/lib/registry/accounts/setRole';
import { signUp } from '@/lib/registry/accounts/signUp';
import { ensureStewardCode } from '@/lib/registry/accounts/stewardCode';
import type { Registry } from '@/lib/registry/registry';
import type { Actor } from '@/lib/run/roles';
import type { DemoPerson } from '../world/types';

export type People = ReadonlyMap<string, Actor>;

/**
 * Opens the demo accounts. In a registry without a steward the demo steward takes the code; otherwise `steward`, an
 * account that is already there, gives the roles.
 */
export async function loadPeople(
  registry: Registry,
  people: readonly DemoPerson[],
  password: string,
  steward: Actor | undefined,
): Promise<People> {
  const actors = new Map<string, Actor>();
  // the steward first: the code makes it one, and it gives the others their roles
  const inOrder = [...people].sort((a, b) => Number(b.role === 'steward') - Number(a.role === 'steward'));
  const stewardCode = await ensureStewardCode(registry);
  let granting = steward;
  for (const person of inOrder) {
    const isFirst = stewardCode !== null && actors.size === 0;
    const { accountId } = await signUp(registry, {
      email: person.email,
      displayName: person.displayName,
      password,
      ...(isFirst ? { stewardCode } : {}),
    });
    const actor: Actor = { accountId, role: person.role, world: 'demo' };
    actors.set(person.key, actor);
    if (isFirst) granting = actor;
    else if (person.role !== 'tester') {
      await setRole(registry, granting, { accountId, role: person.role });
    }
  }
  return actors;
}
