import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { refuseSuspended } from '@/lib/access/suspension';
import { CRUISE_CLASSES, cruiseClassByKey } from '@/lib/run/cruiseClass';
import { Conflict, InvalidInput, NotFound, TooSoon } from '@/lib/run/errors';
import { modelInText } from '@/lib/run/modelWords';
import { nameField } from '@/lib/run/names/publicName';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { joinedWorld, RECORD, type WorldKey, worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { isUniqueViolation, type Queryable } from '@/lib/store/database';
import { listModels } from '@/lib/store/models';
import { modelToPlan } from '@/lib/store/studyBasis';
import { askedSince, insertRequest, requestsOfFactor, type StoredRequest } from '@/lib/store/testRequests';
import { type Askable, askablePairs, likeness } from '@/lib/study/askable';
import type { Registry } from '../registry';
import { setupsOfModel } from '../studies/setupsOfModel';
import { askedOf, type RequestRow, rowsFor } from './requestRow';

/** Requests that one account may make within 24 hours. Own judgement: each asks for days of somebody's driving. */
const REQUESTS_A_DAY = 5;
const DAY_MS = 24 * 60 * 60 * 1000;
const MOST_MODELS = 200;
const MOST_ALIKE = 20;

const question = nameField({
  least: 10,
  most: 140,
  tooShort:
    'The question is too short. | It is what others see in the list. | Ask it in a sentence, for example “Do the covers on the wheels save anything at 110?”',
  tooLong: 'The question is too long. | It stands in headings. | Use at most 140 characters.',
});

const askSchema = z.object({
  modelId: z.uuid(),
  cruiseClassKey: z.string().max(40),
  pair: z
    .string()
    .min(
      1,
      'Nothing is chosen to compare. | A test holds two things against each other. | Choose from the list.',
    )
    .max(200),
  question,
  /** Looked at what is like it, and none of it will do. */
  isOther: z.boolean().default(false),
});

/** What there is to choose from before a pair can be chosen. */
export interface AskSubjects {
  models: { id: string; words: string }[];
  classes: { key: string; label: string }[];
}

export async function askSubjects(registry: Registry, actor: Actor | undefined): Promise<AskSubjects> {
  authorise(actor, 'askForTest');
  const models = await listModels(registry.db, undefined, undefined, MOST_MODELS);
  return {
    models: models.map(({ id, ...model }) => ({ id, words: modelInText(model) })),
    classes: CRUISE_CLASSES.map(({ key, label }) => ({ key, label })),
  };
}

/** The form of a request, with those that are like what was chosen. */
export interface AskFormView {
  modelId: string;
  model: string;
  classKey: string;
  classLabel: string;
  world: WorldKey;
  pairs: { value: string; words: string }[];
  alike: RequestRow[];
  /** One of them asks for the very same: it can be backed, not asked for again. */
  isThere: boolean;
}

export async function readAskForm(
  registry: Registry,
  actor: Actor | undefined,
  of: { modelId: string; classKey: string; pair?: string | undefined },
): Promise<AskFormView> {
  authorise(actor, 'askForTest');
  const subject = await subjectOf(registry, actor, of.modelId, of.classKey);
  const chosen = subject.pairs.find(({ value }) => value === of.pair);
  const found = chosen === undefined ? [] : await alikeTo(registry.db, subject, chosen);
  return {
    modelId: of.modelId,
    model: subject.model,
    classKey: of.classKey,
    classLabel: subject.classLabel,
    world: subject.world,
    pairs: subject.pairs.map(({ value, words }) => ({ value, words })),
    alike: await rowsFor(
      registry.db,
      actor,
      found.map(({ request }) => request),
    ),
    isThere: found.some(({ how }) => how === 'same'),
  };
}

/** Asks testers to drive a comparison; the voice of whoever asks is its first. Look-alikes have to be looked at first. */
export async function askForTest(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ requestId: string }> {
  authorise(actor, 'askForTest');
  refuseSuspended(actor, 'askForTest');
  const asked = parseInput(askSchema, input);
  const subject = await subjectOf(registry, actor, asked.modelId, asked.cruiseClassKey);
  authorise(actor, 'askForTest', undefined, subject.world);
  const chosen = subject.pairs.find(({ value }) => value === asked.pair);
  if (chosen === undefined) throw notOffered();
  const { factor, fromKey, toKey, setups } = chosen;
  const at = registry.now();
  try {
    return await registry.db.$transaction(async (tx) => {
      const { requests } = await askedSince(tx, actor.accountId, new Date(at.getTime() - DAY_MS));
      if (requests >= REQUESTS_A_DAY) throw tooMany();
      const alike = await alikeTo(tx, subject, chosen);
      if (alike.some(({ how }) => how === 'same')) throw isThere();
      if (alike.length > 0 && !asked.isOther) throw looksAlike(alike.length);
      const { id } = await insertRequest(tx, {
        world: subject.world,
        question: asked.question,
        modelId: asked.modelId,
        cruiseClassKey: asked.cruiseClassKey,
        factor,
        fromKey,
        toKey,
        baselineId: setups?.baselineId ?? null,
        setupId: setups?.setupId ?? null,
        askedById: actor.accountId,
        askedAt: at,
      });
      await appendAudit(tx, {
        at,
        actorId: actor.accountId,
        action: 'request.ask',
        subjectKind: 'request',
        subjectId: id,
        details: { question: asked.question },
      });
      return { requestId: id };
    });
  } catch (error) {
    if (isUniqueViolation(error)) throw isThere();
    throw error;
  }
}

interface Subject {
  modelId: string;
  model: string;
  cruiseClassKey: string;
  classLabel: string;
  world: WorldKey;
  pairs: Askable[];
}

async function subjectOf(
  registry: Registry,
  actor: Actor,
  modelId: string,
  cruiseClassKey: string,
): Promise<Subject> {
  const cruiseClass = cruiseClassByKey(cruiseClassKey);
  const model = await modelToPlan(registry.db, modelId);
  if (cruiseClass === undefined || model === null || model.hiddenAt !== null)
    throw new NotFound('This model or cruise class does not exist.');
  return {
    modelId,
    model: modelInText(model),
    cruiseClassKey,
    classLabel: cruiseClass.label,
    world: joinedWorld([registry.world, actor.world ?? RECORD, worldKey(model.world)]),
    pairs: askablePairs(
      model.levels.filter(({ hiddenAt }) => hiddenAt === null),
      await setupsOfModel(registry.db, model),
    ),
  };
}

/** Open and taken requests that are like it, the very same first. */
async function alikeTo(
  db: Queryable,
  subject: Subject,
  chosen: Askable,
): Promise<{ request: StoredRequest; how: 'same' | 'alike' }[]> {
  const of = { world: subject.world, modelId: subject.modelId, factor: chosen.factor };
  const found = await requestsOfFactor(db, of, MOST_ALIKE);
  const asked = { ...chosen, modelId: subject.modelId, cruiseClassKey: subject.cruiseClassKey };
  return found
    .flatMap((request) => {
      const how = likeness(asked, askedOf(request));
      return how === undefined ? [] : [{ request, how }];
    })
    .toSorted((a, b) => Number(b.how === 'same') - Number(a.how === 'same'));
}

function notOffered(): InvalidInput {
  return new InvalidInput([
    {
      path: 'pair',
      what: 'This pair is not one that can be asked for.',
      why: 'A test moves one factor of one model.',
      fix: 'Choose from the list.',
    },
  ]);
}

function looksAlike(count: number): InvalidInput {
  return new InvalidInput([
    {
      path: 'isOther',
      what: `${count === 1 ? 'A request' : `${count} requests`} like this ${count === 1 ? 'is' : 'are'} open already.`,
      why: 'A further vote for one of them says more than another one beside it.',
      fix: 'Back the one that you mean, or say that yours is another.',
    },
  ]);
}

function isThere(): Conflict {
  return new Conflict('This is asked for already: back that request instead.');
}

function tooMany(): TooSoon {
  return new TooSoon(DAY_MS / 1000, {
    path: '',
    what: `You have asked for ${REQUESTS_A_DAY} tests within a day, as many as you may.`,
    why: 'Each asks for days of somebody’s driving.',
    fix: 'Ask for the next one tomorrow, or back what others ask for.',
  });
}
