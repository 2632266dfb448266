import { FREE_TRIES } from '@/lib/access/delays';
import { askForAccount } from '@/lib/registry/accounts/askForAccount';
import { becomeSteward } from '@/lib/registry/accounts/becomeSteward';
import { currentActor } from '@/lib/registry/accounts/currentActor';
import { readLetters } from '@/lib/registry/accounts/mail';
import { readPeople } from '@/lib/registry/accounts/people';
import { askToProve, proveAddress } from '@/lib/registry/accounts/proveAddress';
import { removeLostFactor } from '@/lib/registry/accounts/removeLostFactor';
import { requireFactors } from '@/lib/registry/accounts/requireFactors';
import { askForReset, resetPassword } from '@/lib/registry/accounts/resetPassword';
import { setRole } from '@/lib/registry/accounts/setRole';
import { signIn } from '@/lib/registry/accounts/signIn';
import { endSignIn } from '@/lib/registry/accounts/signIns';
import { signOutEverywhere } from '@/lib/registry/accounts/signOutEverywhere';
import { readAuditLog } from '@/lib/registry/audit/auditLog';
import { addLoop } from '@/lib/registry/loops/addLoop';
import { addModel } from '@/lib/registry/models/addModel';
import { publishProtocol } from '@/lib/registry/protocol/publishProtocol';
import { requestRefit } from '@/lib/registry/rankings/requestRefit';
import type { Registry } from '@/lib/registry/registry';
import { claimRun } from '@/lib/registry/review/claimRun';
import { decideReview } from '@/lib/registry/review/decideReview';
import { addEvidence, removeEvidence } from '@/lib/registry/runs/addEvidence';
import { retractRun } from '@/lib/registry/runs/retractRun';
import { saveDraft } from '@/lib/registry/runs/saveDraft';
import { startDraft } from '@/lib/registry/runs/startDraft';
import { submitRun } from '@/lib/registry/runs/submitRun';
import { Conflict, InvalidInput, NotAllowed, NotFound, TooSoon } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { letterBox } from '@/test/helpers/letterBox';
import { completeForm } from '@/test/helpers/runForms';
import {
  loopOf,
  person,
  STRONG_PASSWORD,
  signedInAs,
  somePhoto,
  submitted,
  tokenOf,
  vehicleOf,
} from '@/test/helpers/smallRegistry';
import { type Attack, type Outcome, refusedBy } from './attack';
import { tokenAttacks } from './tokenAttacks';

const HOSTILE_NAMES = [
  'Victor Vane',
  'victor  vane',
  'Victor-Vane',
  'V\u0456ctor Vane',
  'Vict\u03bfr Vane',
  'Victor\u200b Vane',
  'Victor\u202eenaV',
  'Victor\u2066 Vane',
  'Vic\u00adtor Vane',
  'Victor Vane\ufe0f',
  'Victor\u3164Vane',
  'V\u0300\u0301\u0302\u0303\u0304ictor',
  'Victor (steward)',
  'Steward Victor',
  'S t e w a r d',
  '\u0405teward',
  'Reviewer One',
  'Evenl00p',
  'Official Victor',
  'Victor ✓',
  'Victor <script>',
  "Victor'; DROP TABLE--\u0000",
  '12345',
  '\ud800Victor',
  'V'.repeat(5_000),
];

/** Attacks on the use cases themselves, past whatever a page or a route would have stopped. */
export async function directAttacks(registry: Registry): Promise<Attack[]> {
  const { db } = registry;
  const victim = await person(registry, 'Victor Vane');
  const attacker = await person(registry, 'Agnes Tack');
  const reviewer = await person(registry, 'Rita Lund', 'reviewer');
  const otherReviewer = await person(registry, 'Otto Berg', 'reviewer');
  const steward = await person(registry, 'Stella Moor', 'steward');
  const demoSteward: Actor = {
    ...(await person({ ...registry, world: 'demo' }, 'Dana Reef', 'steward')),
    world: 'demo',
  };
  const box = letterBox();
  const { mail } = box;
  const { carId, baselineId } = await vehicleOf(registry, victim, 'Plover');
  const loopId = await loopOf(registry, victim, 'Attacked ring');
  const subjects = { carId, setupId: baselineId, loopId };
  const run = await submitted(registry, victim, { ...subjects, startedAtLocal: '2026-05-02T08:00' });
  const ownRun = await submitted(registry, reviewer, {
    ...(await ownSubjects(registry, reviewer)),
    startedAtLocal: '2026-05-03T08:00',
  });
  const draft = await startDraft(registry, victim, { creationKey: crypto.randomUUID(), form: subjects });
  const photo = await db.evidenceFile.findFirstOrThrow({ where: { runId: run.runId } });
  const version = await db.protocolVersion.findFirstOrThrow();
  const attacks: Attack[] = [];
  const add = (name: string, attempt: () => Promise<Outcome>) => attacks.push({ name, run: attempt });
  const denied = (name: string, attempt: () => Promise<unknown>) =>
    add(name, () => refusedBy(attempt(), NotAllowed, NotFound));
  const invalid = (name: string, attempt: () => Promise<unknown>) =>
    add(name, () => refusedBy(attempt(), InvalidInput));

  for (const [index, displayName] of HOSTILE_NAMES.entries())
    invalid(`name ${index}: ${JSON.stringify(displayName.slice(0, 30))}`, () =>
      askForAccount(registry, mail, {
        email: `hostile${index}@people.example`,
        displayName,
        password: STRONG_PASSWORD,
      }),
    );
  const loop = await db.loop.findUniqueOrThrow({ where: { id: loopId } });
  for (const name of ['Attackd\u200b ring', 'Att\u0430cked ring', 'Attacked\u202e ring', ' '])
    invalid(`loop named ${JSON.stringify(name)}`, () =>
      addLoop(registry, attacker, { ...loop, legs: [], name }),
    );
  const model = {
    makerName: 'Tarn W\u03bfrks',
    name: 'X',
    modelYear: 2025,
    bodyClass: 'hatch',
    kerbMassKg: 1500,
  };
  invalid('maker in two scripts', () => addModel(registry, attacker, model));

  const roles: [string, Actor | undefined][] = [
    ['visitor', undefined],
    ['tester', attacker],
    ['reviewer', reviewer],
  ];
  for (const [who, actor] of roles) {
    denied(`${who} makes itself steward`, () =>
      setRole(registry, actor, { accountId: actor?.accountId ?? victim.accountId, role: 'steward' }),
    );
    denied(`${who} publishes a protocol`, () =>
      publishProtocol(registry, actor, { label: '9', seenVersionId: version.id, isConfirmed: true }),
    );
    denied(`${who} reads the log`, () => readAuditLog(registry, actor, {}));
    denied(`${who} reads the people`, () => readPeople(registry, actor));
    denied(`${who} reads the letters`, () => readLetters(registry, actor, '/nonexistent'));
    denied(`${who} takes a second factor off`, () =>
      removeLostFactor(registry, mail, actor, { accountId: victim.accountId, reason: 'because I say so' }),
    );
    denied(`${who} turns the rule of second factors`, () =>
      requireFactors(registry, actor, { areRequired: true }),
    );
    denied(`${who} asks for a refit`, () =>
      requestRefit(registry, actor, { cruiseClassKey: 'kmh-90', world: 'record' }),
    );
  }
  for (const actor of [attacker, undefined]) {
    const who = actor ? 'another tester' : 'a visitor';
    denied(`${who} saves over a draft`, () =>
      saveDraft(registry, actor, { runId: draft.runId, draftVersion: draft.draftVersion, form: {} }),
    );
    denied(`${who} sends a draft in`, () =>
      submitRun(registry, actor, { runId: draft.runId, draftVersion: draft.draftVersion }),
    );
    denied(`${who} adds a photo`, async () =>
      addEvidence(registry, actor, { runId: draft.runId, kind: 'startDisplay', bytes: await somePhoto() }),
    );
    denied(`${who} takes a photo off`, () =>
      removeEvidence(registry, actor, { runId: run.runId, evidenceId: photo.id }),
    );
    denied(`${who} retracts a run`, () =>
      retractRun(registry, actor, { runId: run.runId, reason: 'It does not suit me at all.' }),
    );
    denied(`${who} claims a run`, () => claimRun(registry, actor, { runId: run.runId }));
    denied(`${who} approves a run`, () =>
      decideReview(registry, actor, {
        runId: run.runId,
        revisionNumber: run.revisionNumber,
        kind: 'approve',
      }),
    );
  }
  denied('a reviewer claims an own run', () => claimRun(registry, reviewer, { runId: ownRun.runId }));
  denied('a reviewer approves an own run', () =>
    decideReview(registry, reviewer, { runId: ownRun.runId, revisionNumber: 1, kind: 'approve' }),
  );
  denied('a demo steward gives roles in the record', () =>
    setRole(registry, demoSteward, { accountId: attacker.accountId, role: 'steward' }),
  );
  denied('a demo steward publishes the protocol', () =>
    publishProtocol(registry, demoSteward, { label: '9', seenVersionId: version.id, isConfirmed: true }),
  );
  denied('a demo steward takes a second factor off in the record', () =>
    removeLostFactor(registry, mail, demoSteward, {
      accountId: victim.accountId,
      reason: 'because I say so',
    }),
  );
  denied('a demo account becomes steward by a code', () =>
    becomeSteward(registry, demoSteward, { stewardCode: 'AAAA-AAAA-AAAA' }),
  );
  add('a steward takes the own role away', () =>
    refusedBy(setRole(registry, steward, { accountId: steward.accountId, role: 'reader' }), Conflict),
  );
  invalid('steward code by guessing', () =>
    becomeSteward(registry, attacker, { stewardCode: 'AAAA-AAAA-AAAA' }),
  );

  add('one of two decisions at once is refused', async () => {
    const raced = await submitted(registry, victim, { ...subjects, startedAtLocal: '2026-05-06T08:00' });
    const both = await Promise.allSettled(
      [reviewer, otherReviewer].map((actor) => claimRun(registry, actor, { runId: raced.runId })),
    );
    const won = both.filter(({ status }) => status === 'fulfilled').length;
    return won === 1 ? 'refused' : `reached: ${won} claims`;
  });
  add('a draft sent in twice at once is one run', async () => {
    const twice = await startDraft(registry, victim, {
      creationKey: crypto.randomUUID(),
      form: completeForm({ ...subjects, startedAtLocal: '2026-05-07T08:00' }),
    });
    const bytes = await somePhoto();
    for (const kind of ['startDisplay', 'finishDisplay'])
      await addEvidence(registry, victim, { runId: twice.runId, kind, bytes });
    const input = { runId: twice.runId, draftVersion: twice.draftVersion };
    const sent = await Promise.allSettled([1, 2, 3].map(() => submitRun(registry, victim, input)));
    const revisions = await db.runRevision.count({ where: { runId: twice.runId } });
    return revisions === 1 && sent.some(({ status }) => status === 'rejected')
      ? 'refused'
      : `reached: ${revisions} revisions`;
  });
  add('the photos of another tester’s run', async () => {
    const first = await submitted(registry, victim, { ...subjects, startedAtLocal: '2026-05-08T08:00' });
    const stolen = await db.evidenceFile.findFirstOrThrow({ where: { runId: first.runId } });
    const bytes = await registry.blobs.get(stolen.sha256 as never);
    const copy = await startDraft(registry, attacker, {
      creationKey: crypto.randomUUID(),
      form: completeForm({
        ...(await ownSubjects(registry, attacker)),
        startedAtLocal: '2026-05-09T08:00',
      }),
    });
    for (const kind of ['startDisplay', 'finishDisplay'])
      await addEvidence(registry, attacker, { runId: copy.runId, kind, bytes: bytes ?? new Uint8Array() });
    await submitRun(registry, attacker, { runId: copy.runId, draftVersion: copy.draftVersion });
    const findings = await db.finding.findMany({
      where: { revision: { runId: copy.runId }, outcome: { in: ['caution', 'fail'] } },
    });
    return findings.some(({ sentence }) => /picture|photo/i.test(sentence))
      ? 'flagged'
      : 'reached: no finding';
  });

  add('a link to an address used twice', async () => {
    await askToProve(registry, mail, attacker);
    const token = box.secretTo('agnes.tack@people.example');
    await proveAddress(registry, mail, { token });
    return refusedBy(proveAddress(registry, mail, { token }), InvalidInput);
  });
  add('a link to a password used twice', async () => {
    await (await askForReset(registry, mail, { email: 'agnes.tack@people.example' }))();
    const token = box.secretTo('agnes.tack@people.example');
    await resetPassword(registry, mail, { token, newPassword: 'eleven copper kettles at dawn' });
    return refusedBy(
      resetPassword(registry, mail, { token, newPassword: 'twelve copper kettles at dawn' }),
      InvalidInput,
    );
  });
  add('a link of one kind used as another', async () => {
    await (await askForReset(registry, mail, { email: 'victor.vane@people.example' }))();
    return refusedBy(
      proveAddress(registry, mail, { token: box.secretTo('victor.vane@people.example') }),
      InvalidInput,
    );
  });
  for (const token of ['', 'x', "' OR 1=1 --", '\u0000', 'A'.repeat(43)])
    invalid(`an invented link ${JSON.stringify(token.slice(0, 12))}`, () =>
      resetPassword(registry, mail, { token, newPassword: 'eleven copper kettles at dawn' }),
    );
  attacks.push(...(await tokenAttacks(registry, victim, attacker)));
  add('a token after signing out everywhere', async () => {
    const token = await tokenOf(registry, attacker.accountId);
    await signOutEverywhere(registry, attacker);
    return (await currentActor(registry, token)) === undefined ? 'refused' : 'reached: still signed in';
  });
  add('a token with another account’s sign-in', async () => {
    const token = await tokenOf(registry, attacker.accountId);
    const forged = { ...token, accountId: steward.accountId };
    return (await currentActor(registry, forged)) === undefined ? 'refused' : 'reached: the other account';
  });
  denied('ends another’s sign-in', async () => {
    const { signInKey } = await tokenOf(registry, victim.accountId);
    return endSignIn(registry, await signedInAs(registry, attacker.accountId), { key: signInKey });
  });
  add('an old sign-in gives roles', async () => {
    const old = { ...steward, provedAt: new Date(registry.now().getTime() - 3_600_000) };
    return refusedBy(setRole(registry, old, { accountId: attacker.accountId, role: 'reviewer' }), NotAllowed);
  });
  add('passwords by trying', async () => {
    const email = 'victor.vane@people.example';
    for (let i = 0; i <= FREE_TRIES.account; i += 1)
      await signIn(registry, { email, password: `guess ${i}` });
    const last = await signIn(registry, { email, password: STRONG_PASSWORD });
    return !last.ok && last.reason === 'tooSoon' ? 'refused' : 'reached: no wait';
  });
  add('letters by the dozen', async () => {
    for (let i = 0; i < 5; i += 1) await askForReset(registry, mail, { email: 'flooded@people.example' });
    return refusedBy(askForReset(registry, mail, { email: 'flooded@people.example' }), TooSoon);
  });
  return attacks;
}

let cars = 0;
async function ownSubjects(registry: Registry, owner: Actor) {
  cars += 1;
  const names = ['Dunlin', 'Knot', 'Avocet', 'Redshank', 'Curlew', 'Whimbrel'];
  const name = names[cars % names.length] ?? 'Dunlin';
  const { carId, baselineId } = await vehicleOf(registry, owner, name);
  return { carId, setupId: baselineId, loopId: await loopOf(registry, owner, `${name} round`) };
}
