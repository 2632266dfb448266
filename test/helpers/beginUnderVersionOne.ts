import { withStore } from '@/lib/commands/openStore';
import { signUp } from '@/lib/registry/accounts/signUp';
import { ensureStewardCode } from '@/lib/registry/accounts/stewardCode';
import { openRegistry } from '@/lib/registry/openRegistry';
import { STORED_VERSION_ONE } from '@/test/lib/protocol/versionsUnderTest';
import { demoPassword, registrySteward } from './browserWorld';

/**
 * The registry of the browser tests begins as one of release 0.1.0: version 1.0 of the protocol in force as that
 * release stored it, and a steward of its own. What is loaded into it later is filled in under that version.
 */
await withStore(async () => {
  const registry = openRegistry();
  const at = new Date('2026-10-01T08:00:00Z');
  await registry.db.protocolVersion.create({
    data: {
      label: STORED_VERSION_ONE.label,
      summary: STORED_VERSION_ONE.summary,
      parameters: JSON.parse(JSON.stringify(STORED_VERSION_ONE.parameters)),
      status: 'active',
      createdAt: at,
      adoptedAt: at,
    },
  });
  const stewardCode = await ensureStewardCode(registry);
  await signUp(registry, { ...registrySteward, password: demoPassword, stewardCode });
});
