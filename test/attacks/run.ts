import { startDraft } from '@/lib/registry/runs/startDraft';
import { loopOf, person, STRONG_PASSWORD, submitted, vehicleOf } from '@/test/helpers/smallRegistry';
import { filledApp } from '@/test/slow/recovery/filledApp';
import { runAttacks } from './attack';
import { directAttacks } from './directAttacks';
import { httpAttacks } from './httpAttacks';

/**
 * `npm run attacks`: starts a registry of its own on this machine, tries what an attacker would over HTTP and at the use
 * cases, prints what was held and ends with 1 where something was not.
 */
const app = await filledApp();
let isHeld = false;
try {
  isHeld = await app.withRegistry(async (registry) => {
    const owner = await person(registry, 'Olga Reed');
    await person(registry, 'Tom Other');
    const { carId, baselineId } = await vehicleOf(registry, owner, 'Turnstone');
    const subjects = { carId, setupId: baselineId, loopId: await loopOf(registry, owner, 'Target round') };
    const sent = await submitted(registry, owner, subjects);
    const draft = await startDraft(registry, owner, { creationKey: crypto.randomUUID(), form: subjects });
    const photo = await registry.db.evidenceFile.findFirstOrThrow({ where: { runId: sent.runId } });
    const attacks = [
      ...(await httpAttacks({
        address: app.address,
        password: STRONG_PASSWORD,
        ownerEmail: 'olga.reed@people.example',
        otherEmail: 'tom.other@people.example',
        draftId: draft.runId,
        draftVersion: draft.draftVersion,
        evidenceId: photo.id,
        photoDigest: photo.sha256,
        foreignSign: /root:.*:0:0:|NEXTAUTH_SECRET=|\[core\]/,
      })),
      ...(await directAttacks(registry)),
    ];
    const { held, reached } = await runAttacks(attacks);
    for (const one of reached) console.error(`not held · ${one}`);
    console.log(`${attacks.length} cases, ${held} refused or flagged`);
    return reached.length === 0 && attacks.length >= 100;
  });
} finally {
  await app.stop();
}
process.exit(isHeld ? 0 : 1);
