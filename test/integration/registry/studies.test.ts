import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import oembetter from 'oembetter';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { videoLists } from '@/app/(public)/studies/[slug]/publish/videoLists';
import { runsTable } from '@/app/(public)/studies/[slug]/runsTable';
import { publishedStudy } from '@/app/(public)/studies/[slug]/studyFigures';
import { citationOfStudy, studyVideoText } from '@/app/(public)/studies/[slug]/studyWords';
import { askedOf, embedAnswer } from '@/app/embed/embedAnswer';
import { embeddableStudy } from '@/app/embed/embeddable';
import { readFigure } from '@/app/figures/publicFigures';
import { oembedAddress, oembedAnswer } from '@/app/oembed/oembedAnswer';
import { figureCsv } from '@/app/ui/figures/figureCsv';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { addCar } from '@/lib/registry/cars/addCar';
import { claimRun, releaseRun } from '@/lib/registry/review/claimRun';
import { decideReview } from '@/lib/registry/review/decideReview';
import { readQueue } from '@/lib/registry/review/queue';
import { fieldLists } from '@/lib/registry/runs/fieldCard';
import { saveDraft } from '@/lib/registry/runs/saveDraft';
import { submitRun } from '@/lib/registry/runs/submitRun';
import { daySheet } from '@/lib/registry/sessionSheets/daySheet';
import { addFactorLevel } from '@/lib/registry/setups/addFactorLevel';
import { addSetup } from '@/lib/registry/setups/addSetup';
import { addDayToStudy } from '@/lib/registry/studies/addRuns';
import { beginPlannedRun } from '@/lib/registry/studies/beginPlannedRun';
import { abandonStudy, beginStudy, completeStudy, joinStudy } from '@/lib/registry/studies/moveStudy';
import { changedPlanForm, newPlanForm, planSubjects } from '@/lib/registry/studies/planForm';
import { planStudy, replanStudy } from '@/lib/registry/studies/planStudy';
import { readStudyPreview } from '@/lib/registry/studies/preview';
import { readStudies } from '@/lib/registry/studies/studies';
import { studiesToDrive } from '@/lib/registry/studies/studiesToDrive';
import { readStudy, type StudyView } from '@/lib/registry/studies/study';
import { readStudyWays } from '@/lib/registry/studies/studyWays';
import { timeRuns } from '@/lib/registry/studies/timeRuns';
import { Conflict, InvalidInput, NotAllowed, NotFound } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { formOfPlan, PLAN_DEFAULTS, setupFieldName } from '@/lib/study/planForm';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';
import { freshDatabase } from '@/test/helpers/database';
import { completeForm } from '@/test/helpers/runForms';
import {
  loopOf,
  person,
  registryOn,
  type SubmittedRunRef,
  submitted,
  type Vehicle,
  vehicleOf,
} from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
afterAll(remove);

const QUESTION = 'Does the low ride height use less?';
const CLASS = 'kmh-110';
let mira: Actor;
let jonas: Actor;
let rita: Actor;
let tove: Actor;
let vehicle: Vehicle;
let loopId = '';
/** Moves two factors away from the baseline. */
let bothId = '';

beforeAll(async () => {
  mira = await person(registry, 'Mira Holm');
  jonas = await person(registry, 'Jonas Reet', 'reviewer');
  rita = await person(registry, 'Rita Sand', 'reviewer');
  tove = await person(registry, 'Tove Lind', 'reviewer');
  vehicle = await vehicleOf(registry, mira);
  loopId = await loopOf(registry, mira);
  const { modelId } = vehicle;
  await addFactorLevel(registry, mira, { modelId, factor: 'driveMode', label: 'normal' });
  const eco = await addFactorLevel(registry, mira, { modelId, factor: 'driveMode', label: 'eco' });
  const low = await prisma.factorLevel.findFirstOrThrow({ where: { modelId, label: 'low' } });
  ({ setupId: bothId } = await addSetup(registry, mira, { modelId, levelIds: [eco.levelId, low.id] }));
});

const plan = (others: readonly string[] = [vehicle.lowId], changes = {}) => ({
  ...PLAN_DEFAULTS,
  runsADay: '2',
  days: '2',
  baselineId: vehicle.baselineId,
  ...Object.fromEntries(others.map((id) => [setupFieldName(id), 'yes'])),
  ...changes,
});
const asked = (form = plan()) => ({
  carId: vehicle.carId,
  loopId,
  cruiseClassKey: CLASS,
  question: QUESTION,
  form,
  seed: 3,
});

async function view(slug: string, actor?: Actor): Promise<StudyView> {
  const found = await readStudy(registry, actor, slug);
  if (found === undefined) throw new Error('no such study');
  return found;
}

function drive(day: string, hour: number, setupId: string, by = mira, carId = vehicle.carId) {
  return submitted(registry, by, {
    carId,
    setupId,
    loopId,
    cruiseClassKey: CLASS,
    startedAtLocal: `${day}T${String(hour).padStart(2, '0')}:00`,
  });
}

/** By those who do not drive in it. */
async function approveByTwo({ runId, revisionNumber }: SubmittedRunRef): Promise<void> {
  for (const reviewer of [rita, tove]) {
    await claimRun(registry, reviewer, { runId });
    const kind = await decideReview(registry, reviewer, { runId, revisionNumber, kind: 'approve' });
    if (kind !== 'approveFirst') return;
  }
}

describe('planning a study', () => {
  it('refuses what moves two factors at once, and names the field', async () => {
    await expect(planStudy(registry, mira, asked(plan([bothId])))).rejects.toSatisfy(
      (error) =>
        error instanceof InvalidInput &&
        error.issues[0]?.path === 'setups' &&
        /moves drive mode and ride height at once/.test(error.issues[0].what),
    );
    await expect(planStudy(registry, mira, asked(plan([], {})))).rejects.toBeInstanceOf(InvalidInput);
    await expect(planStudy(registry, mira, { ...asked(), cruiseClassKey: 'kmh-130' })).rejects.toSatisfy(
      (error) => error instanceof InvalidInput && error.issues[0]?.path === 'cruiseClassKey',
    );
    await expect(planStudy(registry, jonas, asked())).rejects.toBeInstanceOf(NotFound);
    await expect(planStudy(registry, undefined, asked())).rejects.toBeInstanceOf(NotAllowed);
    expect(await prisma.study.count()).toBe(0);
  });

  it('offers what a plan is made of', async () => {
    const subjects = await planSubjects(registry, mira);
    expect(subjects.cars.map(({ id }) => id)).toEqual([vehicle.carId]);
    const form = await newPlanForm(registry, mira, {
      carId: vehicle.carId,
      loopId,
      cruiseClassKey: CLASS,
    });
    expect(form.form.baselineId).toBe(vehicle.baselineId);
    expect(form.basis.isAssumed).toBe(true);
    expect(form.basis.setups.map(({ id }) => id).sort()).toEqual(
      [vehicle.baselineId, vehicle.lowId, bothId].sort(),
    );
  });

  it('makes a public draft, whose plan is replaced until it begins, with the seed that it had', async () => {
    const { studyId, slug } = await planStudy(registry, mira, asked());
    const draft = await view(slug);
    expect(draft.state).toBe('draft');
    expect(draft.plan?.days).toHaveLength(2);
    const replan = {
      studyId,
      version: 1,
      question: `${QUESTION} Really?`,
      form: plan(undefined, { days: '3' }),
    };
    await expect(replanStudy(registry, jonas, replan)).rejects.toBeInstanceOf(NotAllowed);
    await replanStudy(registry, mira, replan);
    const changed = await view(slug, mira);
    expect(changed.versions).toHaveLength(1);
    expect(changed.plan?.days).toHaveLength(3);
    expect(changed.plan?.seed).toBe(3);
    expect(changed.plan?.days.slice(0, 2)).toEqual(draft.plan?.days);
    expect(changed.question).toBe(`${QUESTION} Really?`);
    const form = await changedPlanForm(registry, mira, slug);
    expect(form.form.days).toBe('3');
    expect(form.study).toMatchObject({ version: 1, isFixed: false });
    await abandonStudy(registry, mira, { studyId, reason: 'Only to try the form out.' });
    expect((await view(slug)).endReason).toBe('Only to try the form out.');
    expect((await readStudies(registry, { state: 'abandoned' })).rows.map((row) => row.slug)).toEqual([slug]);
  });
});

describe('driving a study', () => {
  let study: { studyId: string; slug: string };
  let runs: SubmittedRunRef[] = [];

  it('begins with the first run that fits, which belongs to it without being chosen', async () => {
    clock.now = new Date('2026-05-10T12:00:00Z');
    study = await planStudy(registry, mira, asked());
    clock.now = new Date('2026-06-01T12:00:00Z');
    const order = (await view(study.slug)).plan?.days[0] ?? [];
    runs = [await drive('2026-05-14', 8, order[0] ?? '')];
    const begun = await view(study.slug, mira);
    expect(begun.state).toBe('running');
    expect(begun.counts).toMatchObject({ runs: 1, waiting: 1, counted: 0 });
    runs.push(await drive('2026-05-14', 11, order[1] ?? ''));
    // another setup, which the plan does not name, belongs to no study
    await drive('2026-05-14', 15, bothId);
    const driven = await view(study.slug);
    expect(driven.sessions).toHaveLength(1);
    expect(driven.sessions[0]?.runs.flatMap(({ deviations }) => deviations)).toEqual([]);
    expect(driven.sessions[0]?.missing).toEqual([]);
    const acts = await prisma.auditEntry.findMany({
      where: { subjectId: study.studyId },
      orderBy: { id: 'asc' },
    });
    expect(acts.map(({ action }) => action)).toEqual([
      'study.plan',
      'study.begin',
      'study.addRuns',
      'study.addRuns',
    ]);
  });

  it('changes its plan only as a further version with a reason, of the same question', async () => {
    const { studyId, slug } = study;
    const form = plan([bothId], { days: '3' });
    const replan = { studyId, version: 1, question: 'Something else altogether?', form };
    await expect(replanStudy(registry, mira, { ...replan, reason: 'no' })).rejects.toSatisfy(
      (error) => error instanceof InvalidInput && error.issues[0]?.path === 'reason',
    );
    await replanStudy(registry, mira, { ...replan, reason: 'A third day became free.' });
    const changed = await view(slug);
    expect(changed.versions.map(({ number }) => number)).toEqual([2, 1]);
    expect(changed.question).toBe(QUESTION);
    expect(changed.plan?.setupIds).toEqual([vehicle.lowId]);
    expect(changed.plan?.days).toHaveLength(3);
    await expect(
      replanStudy(registry, mira, { ...replan, reason: 'Of the version that I have read.' }),
    ).rejects.toBeInstanceOf(Conflict);
  });

  it('leads on: the next run of the plan is one tap away, today, and what is noted has its place', async () => {
    const { studyId, slug } = study;
    const order = (await view(slug)).plan?.days[1] ?? [];
    const tap = (creationKey: string, by = mira) => beginPlannedRun(registry, by, { studyId, creationKey });
    expect((await view(slug, mira)).mine.next?.here).toEqual({ day: '2026-06-01', carId: vehicle.carId });
    const first = await tap('tap-number-1');
    expect(await tap('tap-number-1')).toEqual(first);
    const second = await tap('tap-number-2');
    expect(second.sheetId).toBe(first.sheetId);
    const sheet = await daySheet(registry, mira, first.sheetId);
    expect(sheet.localDate).toBe('2026-06-01');
    expect(sheet.day).toMatchObject({ carId: vehicle.carId, loopId, cruiseClassKey: CLASS });
    expect(sheet.runs.map(({ form }) => form.setupId)).toEqual(order);
    expect(sheet.studies.map((one) => one.runs.map(({ day }) => day))).toEqual([
      ['2026-05-14', '2026-05-14', '2026-06-01', '2026-06-01'],
    ]);
    await expect(tap('tap-number-3')).rejects.toBeInstanceOf(Conflict);
    await expect(tap('tap-number-4', rita)).rejects.toBeInstanceOf(NotFound);
    await expect(
      beginPlannedRun(registry, undefined, { studyId, creationKey: 'tap-number-5' }),
    ).rejects.toBeInstanceOf(NotAllowed);
    const { studies } = await fieldLists(registry, { ...mira, displayName: 'Mira Holm' });
    expect(studies.map((one) => one.runs.length)).toEqual([4]);
  });

  it('is joined with a car of the model, and not reviewed by those who drive in it', async () => {
    const { studyId } = study;
    await expect(joinStudy(registry, jonas, { studyId })).rejects.toBeInstanceOf(Conflict);
    await addCar(registry, jonas, { modelId: vehicle.modelId, name: 'Second Skerry' });
    expect((await view(study.slug, jonas)).mine.mayJoin).toBe(true);
    await joinStudy(registry, jonas, { studyId });
    await joinStudy(registry, jonas, { studyId });
    const [first] = runs as [SubmittedRunRef];
    await expect(claimRun(registry, jonas, { runId: first.runId })).rejects.toSatisfy(
      (error) => error instanceof Conflict && /run or drive in the study/.test(error.message),
    );
    const queue = await readQueue(registry, jonas, {});
    expect(queue.rows.find(({ number }) => number === first.runNumber)?.keptOut).toBe('ownStudy');
    // a draft is its tester's own: whoever else drives in the study is not told of it
    expect((await studiesToDrive(prisma, mira.accountId))[0]?.runs).toHaveLength(4);
    expect((await studiesToDrive(prisma, jonas.accountId))[0]?.runs).toHaveLength(2);
    // nor by one who took it for review before they joined
    const nils = await person(registry, 'Nils Vik', 'reviewer');
    await claimRun(registry, nils, { runId: first.runId });
    await addCar(registry, nils, { modelId: vehicle.modelId, name: 'Third Skerry' });
    await joinStudy(registry, nils, { studyId });
    const decision = { runId: first.runId, revisionNumber: first.revisionNumber, kind: 'approve' };
    await expect(decideReview(registry, nils, decision)).rejects.toSatisfy(
      (error) => error instanceof Conflict && /run or drive in the study/.test(error.message),
    );
    await releaseRun(registry, nils, { runId: first.runId });
    const other = await readQueue(registry, rita, {});
    expect(other.rows.find(({ number }) => number === first.runNumber)?.isReviewable).toBe(true);
  });

  it('fills as runs are approved, and shows nothing of those that wait', async () => {
    const before = await view(study.slug);
    expect(before.standing?.contrasts[0]?.shown).toBeNull();
    expect(before.sessions[0]?.runs.every(({ run }) => run.whPerKm === null && !run.isPublic)).toBe(true);
    // at the charger: whoever drives in it sees their own that wait, and nobody else's
    const preview = await readStudyPreview(registry, mira, study.slug);
    expect(preview.runs).toEqual({ counted: 0, waiting: 2 });
    expect(preview.standing.contrasts[0]?.running?.interval).not.toBeNull();
    expect(preview.days).toMatchObject([{ runs: [1, 1], isBeyond: false }]);
    expect((await readStudyPreview(registry, jonas, study.slug)).runs).toEqual({ counted: 0, waiting: 0 });
    const steward = await person(registry, 'Stina Ek', 'steward');
    for (const other of [rita, steward, undefined])
      await expect(readStudyPreview(registry, other, study.slug)).rejects.toBeInstanceOf(NotAllowed);
    expect(await prisma.countedRun.count()).toBe(0);
    for (const run of runs) await approveByTwo(run);
    expect((await readStudyPreview(registry, mira, study.slug)).runs).toEqual({ counted: 2, waiting: 0 });
    const filled = await view(study.slug);
    expect(filled.counts).toMatchObject({ counted: 2, waiting: 0 });
    const [contrast] = filled.standing?.contrasts ?? [];
    expect(contrast?.looks).toHaveLength(1);
    // the two runs were typed alike: the difference is that of their odometers' last digits at most
    expect(Math.abs(contrast?.shown?.difference ?? 1)).toBeLessThan(0.01);
    expect(filled.standing?.which).toBe('running');
    // worked out other ways, from the steps that are kept of each run
    const ways = (await readStudyWays(registry, filled)).get(vehicle.lowId);
    expect(ways?.ways.map(({ way }) => way)).toEqual(['asMeasured', 'withoutWind', 'withoutAir']);
    expect(ways?.ways.every(({ difference }) => Math.abs(difference ?? 1) < 0.02)).toBe(true);
    expect((await readStudyWays(registry, before)).size).toBe(0);
  });

  it('adds a whole day by hand, marked, and only of one’s own', async () => {
    // sent in for no study: the loop is another, so that it did not join by itself
    const elsewhere = await loopOf(registry, mira, 'South causeway');
    await submitted(registry, mira, {
      carId: vehicle.carId,
      setupId: vehicle.lowId,
      loopId: elsewhere,
      cruiseClassKey: CLASS,
      startedAtLocal: '2026-05-16T08:00',
    });
    const [day] = (await view(study.slug, mira)).mine.days;
    expect(day).toMatchObject({ day: '2026-05-16', runs: 1 });
    const input = { studyId: study.studyId, sessionId: day?.sessionId };
    await expect(addDayToStudy(registry, rita, input)).rejects.toBeInstanceOf(NotAllowed);
    await expect(addDayToStudy(registry, jonas, input)).rejects.toBeInstanceOf(Conflict);
    expect(await addDayToStudy(registry, mira, input)).toEqual({ runs: 1 });
    const [, second] = (await view(study.slug)).sessions;
    expect(second?.runs[0]?.run.wasChosen).toBe(true);
    expect(second?.runs[0]?.deviations).toContain('other loop');
  });

  it('keeps where one’s own runs begin in one’s video, with what was before in the log', async () => {
    const { studyId, slug } = study;
    const [first, second] = runs as [SubmittedRunRef, SubmittedRunRef];
    const times = (typed: Record<number, string>) => ({ studyId, times: typed });
    const refusal = async (typed: Record<number, string>, by: Actor = mira) =>
      timeRuns(registry, by, times(typed)).catch((error) => error);
    expect(await refusal({ [first.runNumber]: '1:00' }, rita)).toBeInstanceOf(NotAllowed);
    for (const [typed, by] of [
      [{ [first.runNumber]: '3.07' }, mira],
      [{ [first.runNumber]: '3:07', [second.runNumber]: '3:07' }, mira],
      // He drives in the study, and the run is hers.
      [{ [first.runNumber]: '3:07' }, jonas],
    ] as const) {
      const error = await refusal(typed, by);
      expect(error).toBeInstanceOf(InvalidInput);
      expect(error.issues.map(({ path }: { path: string }) => path)).toContain(`at-${first.runNumber}`);
    }
    await timeRuns(registry, mira, times({ [first.runNumber]: '3:07', [second.runNumber]: '1:02:03' }));
    await timeRuns(registry, mira, times({ [first.runNumber]: '3:09' }));
    await timeRuns(registry, mira, times({ [first.runNumber]: '3:09' }));
    expect(videoLists(await view(slug)).map(({ tester, text }) => [tester.displayName, text])).toEqual([
      [
        'Mira Holm',
        [
          `0:00 ${QUESTION}`,
          `3:09 Day 1, run 1: As delivered (run ${first.runNumber})`,
          `1:02:03 Day 1, run 2: Ride height: low (run ${second.runNumber})`,
        ].join('\n'),
      ],
    ]);
    const kept = await prisma.auditEntry.findMany({
      where: { subjectId: studyId, action: 'study.timeRuns' },
      orderBy: { id: 'asc' },
    });
    expect(kept.map(({ details }) => details)).toEqual([
      { runs: [`${first.runNumber}: none → 3:07`, `${second.runNumber}: none → 1:02:03`] },
      { runs: [`${first.runNumber}: 3:07 → 3:09`] },
    ]);
    await timeRuns(registry, mira, times({ [first.runNumber]: '', [second.runNumber]: '' }));
    expect(videoLists(await view(slug))).toEqual([]);
  });

  it('has a figure of each difference with an address, words with counts, and its runs as a table', async () => {
    const shown = await view(study.slug);
    const figure = await readFigure(registry, 'study', study.slug, {});
    const setup = shown.setups.find(({ id }) => id === vehicle.lowId)?.slug;
    expect(figure?.address).toEqual({ kind: 'study', key: study.slug, query: { setup } });
    expect(await readFigure(registry, 'study', study.slug, { setup: 'no-such' })).toBeUndefined();
    const published = publishedStudy(shown, DEFAULT_PREFERENCES);
    if (published === undefined || shown.plan === undefined) throw new Error('nothing to publish');
    const text = studyVideoText(shown, published, DEFAULT_PREFERENCES) ?? '';
    expect(text).toContain('Not finished yet: this may change. 2 runs on 1 day count');
    expect(text.endsWith(`/studies/${study.slug}`)).toBe(true);
    expect(citationOfStudy(shown, DEFAULT_PREFERENCES, undefined)).toContain(
      '; 2 runs on 1 day, plan version 2, method',
    );
    const csv = figureCsv(runsTable(shown, shown.plan, DEFAULT_PREFERENCES)).split('\r\n');
    expect(csv).toHaveLength(shown.counts.runs + 2);
    expect(csv[1]).toMatch(/^1,2026-05-14,1,A,As delivered,\d+,counts,[\d.]+,[\d.]+,[\d.]+,$/);
  });

  it('has a live figure, found and shown by a consumer of embeds that is not ours', async () => {
    const { slug } = study;
    const server = createServer(async (request, response) => {
      const asked = new Request(new URL(request.url ?? '/', process.env.NEXTAUTH_URL));
      const { pathname } = new URL(asked.url);
      if (pathname === `/studies/${slug}`) {
        const { alternates } = pageMetadata('studies', {
          title: QUESTION,
          path: pathname,
          oembed: oembedAddress(pathname),
        });
        const [link] = (alternates?.types?.['application/json+oembed'] ?? []) as { url: string }[];
        const href = link?.url.replaceAll('&', '&amp;');
        response.end(`<link rel="alternate" type="application/json+oembed" href="${href}">`);
        return;
      }
      const answer =
        pathname === '/oembed'
          ? await oembedAnswer(registry, asked)
          : await embedAnswer(asked, await embeddableStudy(registry, slug, askedOf(new URL(asked.url))));
      response.writeHead(answer.status, Object.fromEntries(answer.headers));
      response.end(Buffer.from(await answer.arrayBuffer()));
    });
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    const own = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
    vi.stubEnv('NEXTAUTH_URL', own);
    try {
      const consume = (most = {}) =>
        new Promise<Record<string, unknown>>((resolve, reject) =>
          oembetter().fetch(`${own}/studies/${slug}`, most, (error, found) =>
            error ? reject(error) : resolve(found),
          ),
        );
      // What the specification wants of a rich answer, and what is more.
      expect(await consume()).toMatchObject({
        version: '1.0',
        type: 'rich',
        title: QUESTION,
        author_name: 'Mira Holm',
        provider_name: 'Evenloop',
        provider_url: `${own}/`,
        width: 720,
        thumbnail_width: 1200,
        thumbnail_height: 630,
      });
      const small = await consume({ maxwidth: 320, maxheight: 240 });
      expect(small).toMatchObject({ width: 320, height: 240 });
      expect(small.thumbnail_url).toBeUndefined();
      const [, src = ''] = /^<iframe src="([^"]+)"/.exec(String(small.html)) ?? [];
      const shown = await fetch(src.replaceAll('&amp;', '&'));
      expect(shown.headers.get('set-cookie')).toBeNull();
      const page = await shown.text();
      expect(Buffer.byteLength(page)).toBeLessThan(30_000);
      expect(page).toContain(`href="${own}/studies/${slug}"`);
      const same = { headers: { 'if-none-match': shown.headers.get('etag') ?? '' } };
      expect(
        (await embedAnswer(new Request(src, same), await embeddableStudy(registry, slug, {}))).status,
      ).toBe(304);
      const status = async (query: Record<string, string>) =>
        (await fetch(`${own}/oembed?${new URLSearchParams(query)}`)).status;
      expect(await status({ url: `${own}/studies/${slug}`, format: 'xml' })).toBe(501);
      for (const url of [
        '',
        'no address',
        `${own}/studies/no-such-study`,
        `${own}/runs/1`,
        `https://elsewhere.example/studies/${slug}`,
        `${own.replace('127.0.0.1', '127.0.0.1.elsewhere.example')}/studies/${slug}`,
      ])
        expect(await status({ url, format: 'json' }), url).toBe(404);
    } finally {
      vi.unstubAllEnvs();
      server.close();
    }
  });

  it('ends by its owner alone, once', async () => {
    const { studyId, slug } = study;
    await expect(completeStudy(registry, jonas, { studyId })).rejects.toBeInstanceOf(NotAllowed);
    await completeStudy(registry, mira, { studyId });
    await expect(completeStudy(registry, mira, { studyId })).rejects.toBeInstanceOf(Conflict);
    await expect(beginStudy(registry, mira, { studyId })).rejects.toBeInstanceOf(Conflict);
    await expect(
      abandonStudy(registry, mira, { studyId, reason: 'Too late for that, surely.' }),
    ).rejects.toBeInstanceOf(Conflict);
    const done = await view(slug, mira);
    expect(done.state).toBe('complete');
    expect(done.standing?.which).toBe('running');
    expect(done.mine).toMatchObject({ mayBegin: false, mayComplete: false, mayReplan: false });
    await drive('2026-05-20', 8, vehicle.lowId);
    expect((await view(slug)).counts.runs).toBe(3);
  });

  it('keeps what is stored and cannot be read from breaking the page', async () => {
    await prisma.studyVersion.updateMany({
      where: { studyId: study.studyId },
      data: { plan: { odd: true } },
    });
    const odd = await view(study.slug, mira);
    expect(odd.plan).toBeUndefined();
    expect(odd.standing).toBeNull();
    expect((await readStudies(registry, { state: 'complete' })).rows[0]?.planned).toBeNull();
  });

  it('has the run that its own button began, though an earlier study fits as well', async () => {
    const questions = ['Of two that fit, the earlier?', 'Of two that fit, the later?'];
    const [earlier, later] = await Promise.all([
      planStudy(registry, mira, { ...asked(), question: questions[0] }),
      planStudy(registry, mira, { ...asked(), question: questions[1] }),
    ]).then((two) => two.toSorted((a, b) => a.studyId.localeCompare(b.studyId)));
    if (earlier === undefined || later === undefined) throw new Error('no studies');
    for (const { studyId } of [earlier, later]) await beginStudy(registry, mira, { studyId });
    const tap = (studyId: string, creationKey: string) =>
      beginPlannedRun(registry, mira, { studyId, creationKey });
    const { sheetId, runId } = await tap(later.studyId, 'tap-of-the-later');
    const sheet = await daySheet(registry, mira, sheetId, runId);
    expect(sheet.begunForStudyId).toBe(later.studyId);
    const placedIn = sheet.studies.filter(({ runs }) =>
      runs.some(({ number }) => number === sheet.open?.number),
    );
    expect(placedIn.map(({ studyId }) => studyId)).toEqual([later.studyId]);
    const { draft, draftVersion } = await prisma.run.findUniqueOrThrow({ where: { id: runId } });
    const form = completeForm({
      ...(draft as Record<string, string>),
      startedAtLocal: '2026-05-24T10:00',
      odometerStart: '31000',
      odometerStartUnit: 'km',
    });
    const saved = await saveDraft(registry, mira, { runId, draftVersion, form });
    await submitRun(registry, mira, { runId, draftVersion: saved.draftVersion, form });
    const ofStudy = async (id: string) =>
      (await prisma.studyRun.findMany({ where: { studyId: id } })).map((one) => one.runId);
    expect([await ofStudy(earlier.studyId), await ofStudy(later.studyId)]).toEqual([[], [runId]]);
    // Begun by no button it is the earliest's, as ever.
    const other = await drive('2026-05-25', 8, vehicle.lowId);
    expect(await ofStudy(earlier.studyId)).toEqual([other.runId]);
    for (const { studyId } of [earlier, later]) await completeStudy(registry, mira, { studyId });
  });
});

describe('a plan and its form', () => {
  it('are the same, there and back', async () => {
    const form = plan(undefined, { firstDay: '2026-12-01', pricePerKwh: '0.4' });
    const { slug } = await planStudy(registry, mira, { ...asked(form), question: `${QUESTION} Again?` });
    const { plan: kept } = await view(slug);
    if (kept === undefined) throw new Error('no plan');
    expect(formOfPlan(kept)).toEqual({ ...form, question: `${QUESTION} Again?` });
  });
});
