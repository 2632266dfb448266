import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import type { RunForm, RunSection } from '@/lib/capture/runFields';
import { CRUISE_CLASSES } from '@/lib/domain/cruiseClass';
import { NotFound } from '@/lib/domain/errors';
import type { Actor } from '@/lib/domain/roles';
import type { RunStatus } from '@/lib/domain/runStatus';
import { ruleById } from '@/lib/protocol/rules/allRules';
import { accountById } from '@/lib/store/accounts';
import { carsForForm } from '@/lib/store/cars';
import { latestForms, runForForm } from '@/lib/store/drafts';
import { listLoops } from '@/lib/store/loops';
import { evidenceOf, runState } from '@/lib/store/runs';
import { formatQuantity } from '@/lib/units/format';
import { parseInput } from '../parseInput';
import type { Registry } from '../registry';
import { carUnits, rememberedUnits, type UnitChoice } from './displayUnits';
import { modelWords } from './modelWords';
import { placeOfRule } from './rulePlaces';

export interface FormCar {
  id: string;
  name: string;
  modelId: string;
  model: string;
  usableCapacityWh: number | undefined;
  placardFrontPa: number | undefined;
  placardRearPa: number | undefined;
  /** Unit of each quantity on this car's display, where known. */
  units: UnitChoice;
  setups: { id: string; title: string }[];
}

export interface FormLoop {
  id: string;
  name: string;
  region: string;
  length: string;
  postedLimit: string;
  /** Cruise classes within the posted limit. */
  cruiseClassKeys: string[];
}

export interface FormPhoto {
  id: string;
  kind: string;
  sha256: string;
  thumbSha256: string;
  capturedAt: string | undefined;
}

export interface ReviewRemark {
  ruleId: string;
  title: string;
  text: string;
  section: RunSection | undefined;
  field: string | undefined;
}

export interface RecordFormView {
  runId: string;
  number: number;
  status: RunStatus;
  draftVersion: number;
  savedAt: string;
  submittedAt: string | undefined;
  form: RunForm;
  /** Of a draft never sent, 0. */
  revisionNumber: number;
  isDemo: boolean;
  cars: FormCar[];
  loops: FormLoop[];
  /** Units to offer first where the car says nothing. */
  units: UnitChoice;
  photos: FormPhoto[];
  /** What the reviewer asked for, when changes are asked. */
  review: { note: string; decidedAt: string; remarks: ReviewRemark[] } | undefined;
  now: string;
}

/** Printed limits and classes are round numbers: only rounding may lie between two that are the same speed. */
const SAME_SPEED_MPS = 0.01;

/** Everything that the form of one run shows, for its tester only. */
export async function recordForm(
  registry: Registry,
  actor: Actor | undefined,
  runId: string,
): Promise<RecordFormView> {
  const run = await runForForm(registry.db, parseInput(z.uuid(), runId));
  if (run === null) throw new NotFound('This run does not exist.');
  authorise(actor, 'editRun', run.testerId);
  const [cars, loops, photos, forms, account] = await Promise.all([
    carsForForm(registry.db, actor.accountId),
    listLoops(registry.db),
    evidenceOf(registry.db, runId),
    latestForms(registry.db, actor.accountId, runId),
    accountById(registry.db, actor.accountId),
  ]);
  const remembered = rememberedUnits(
    forms.map((one) => one.draft as RunForm),
    account?.displaySystem ?? 'metric',
  );
  const revision = run.revisions[0];
  const decision = revision?.decisions[0];
  return {
    runId: run.id,
    number: run.number,
    status: run.status,
    draftVersion: run.draftVersion,
    savedAt: run.draftSavedAt.toISOString(),
    submittedAt: run.submittedAt?.toISOString(),
    form: run.draft as RunForm,
    revisionNumber: revision?.number ?? 0,
    isDemo: run.isDemo,
    cars: cars.map((car) => ({
      id: car.id,
      name: car.name,
      modelId: car.model.id,
      model: modelWords(car.model),
      usableCapacityWh: car.usableCapacityWh ?? car.model.usableCapacityWh ?? undefined,
      placardFrontPa: car.placardFrontPa ?? undefined,
      placardRearPa: car.placardRearPa ?? undefined,
      units: { ...remembered.byCar[car.id], ...carUnits(car.displayUnits) },
      setups: car.model.setups,
    })),
    loops: loops.map((loop) => ({
      id: loop.id,
      name: loop.name,
      region: loop.region,
      length: formatQuantity(loop.lengthM, 'km', { decimals: 1 }),
      postedLimit: formatQuantity(loop.postedLimitMps, 'km/h', { decimals: 0 }),
      cruiseClassKeys: CRUISE_CLASSES.filter(
        (one) => one.speedMps <= loop.postedLimitMps + SAME_SPEED_MPS,
      ).map((one) => one.key),
    })),
    units: remembered.last,
    photos: photos.map(photoOf),
    review:
      run.status === 'changesAsked' && decision !== undefined
        ? {
            note: decision.note,
            decidedAt: decision.decidedAt.toISOString(),
            remarks: decision.reasons.map(remarkOf),
          }
        : undefined,
    now: registry.now().toISOString(),
  };
}

function remarkOf(reason: { ruleId: string; text: string }): ReviewRemark {
  const place = placeOfRule(reason.ruleId);
  return {
    ruleId: reason.ruleId,
    title: ruleById(reason.ruleId)?.title ?? reason.ruleId,
    text: reason.text,
    section: place?.section,
    field: place?.field,
  };
}

/** The photos of a run as its form shows them, for its tester only. */
export async function photosOf(
  registry: Registry,
  actor: Actor | undefined,
  runId: string,
): Promise<FormPhoto[]> {
  const run = await runState(registry.db, parseInput(z.uuid(), runId));
  if (run === null) throw new NotFound('This run does not exist.');
  authorise(actor, 'editRun', run.testerId);
  return (await evidenceOf(registry.db, runId)).map(photoOf);
}

function photoOf(photo: Awaited<ReturnType<typeof evidenceOf>>[number]): FormPhoto {
  return {
    id: photo.id,
    kind: photo.kind,
    sha256: photo.sha256,
    thumbSha256: photo.thumbSha256,
    capturedAt: photo.capturedAt?.toISOString(),
  };
}
