/** A run of a study as far as its place in the order goes: sent in, or noted as a draft that would belong to it. */
export interface PlacedRun {
  number: number;
  /** At the loop, YYYY-MM-DD. */
  day: string;
  carId: string;
  setupId: string;
}

/** An open study as its tester's pages and phone need it to say what is next, with a signal or without. */
export interface StudyToDrive {
  studyId: string;
  slug: string;
  question: string;
  loopId: string;
  cruiseClassKey: string;
  /** The tester's cars of its model. */
  carIds: string[];
  /** The baseline first. */
  setups: { id: string; title: string; letter: string }[];
  /** The order of each day, of setups' ids. */
  days: string[][];
  /** By whoever drives in it. */
  runs: PlacedRun[];
}

/** Where somebody drives, with the runs that a page or a phone knows of, in the order of driving. */
export interface DrivenHere {
  day: string;
  carId: string;
  /** Without a number where only the phone knows of it. */
  runs: readonly { number?: number | undefined; setupId: string }[];
}

export interface NextToDrive {
  /** Of the plan's days, counted from 0; one that nobody planned where all of them were driven. */
  place: number;
  planned: readonly string[];
  /** This day's so far, those that only the server knows of first. */
  driven: string[];
  /** Null where the day's order, or the whole plan, is driven. */
  setupId: string | null;
}

/**
 * What the plan has next for one car on one day. The days of a plan go by in time, whoever drives them: a day takes the
 * place after all that came before it and all that others drive on it.
 */
export function nextToDrive(study: Pick<StudyToDrive, 'days' | 'runs'>, here: DrivenHere): NextToDrive {
  const isHere = ({ day, carId }: PlacedRun) => day === here.day && carId === here.carId;
  const others = study.runs.filter((run) => !isHere(run) && run.day <= here.day);
  const place = new Set(others.map(({ day, carId }) => `${day} ${carId}`)).size;
  const known = new Set(here.runs.flatMap(({ number }) => number ?? []));
  const elsewhere = study.runs.filter((run) => isHere(run) && !known.has(run.number));
  const driven = [...elsewhere, ...here.runs].map(({ setupId }) => setupId);
  const planned = study.days[place] ?? [];
  return { place, planned, driven, setupId: planned[driven.length] ?? null };
}

/** What a run's form says of what it is of; nothing is known of an empty one. */
export interface SubjectsOfRun {
  carId?: string | undefined;
  setupId?: string | undefined;
  loopId?: string | undefined;
  cruiseClassKey?: string | undefined;
  /** The study whose button began it. */
  begunForStudyId?: string | undefined;
}

/** Whether runs of these subjects are what the study is about, whichever of its setups they are driven with. */
export function isOfStudy(
  { carIds, loopId, cruiseClassKey }: Pick<StudyToDrive, 'carIds' | 'loopId' | 'cruiseClassKey'>,
  run: SubjectsOfRun,
): boolean {
  return run.loopId === loopId && run.cruiseClassKey === cruiseClassKey && carIds.includes(run.carId ?? '');
}

/** The study that such a run belongs to once it is sent in, as the registry takes it. */
export function studyOf<
  Study extends Pick<StudyToDrive, 'studyId' | 'carIds' | 'loopId' | 'cruiseClassKey' | 'setups'>,
>(studies: readonly Study[], run: SubjectsOfRun): Study | undefined {
  const fitting = studies.filter(
    (study) => isOfStudy(study, run) && (!run.setupId || study.setups.some(({ id }) => id === run.setupId)),
  );
  return chosenOf(fitting, ({ studyId }) => studyId, run.begunForStudyId);
}

/** Of studies that a run fits, the earliest first: the one whose button began it, else the earliest. */
export function chosenOf<Study>(
  fitting: readonly Study[],
  idOf: (study: Study) => string,
  begunForStudyId: string | null | undefined,
): Study | undefined {
  return fitting.find((study) => idOf(study) === begunForStudyId) ?? fitting[0];
}

/** A row of setups by their letters, “A B B A”. */
export function lettersOf({ setups }: Pick<StudyToDrive, 'setups'>, ids: readonly string[]): string {
  return ids.map((id) => setups.find((setup) => setup.id === id)?.letter ?? '?').join(' ');
}

/** “B, ride height low”; empty where there is none. */
export function setupWords({ setups }: Pick<StudyToDrive, 'setups'>, id: string | null): string {
  const setup = setups.find((one) => one.id === id);
  return setup === undefined ? '' : `${setup.letter}, ${setup.title}`;
}

/** Where the day stands in the plan, in a sentence or two. */
export function planWords(study: StudyToDrive, next: NextToDrive): string {
  if (next.planned.length === 0)
    return `${study.days.length === 1 ? 'The one day of the plan is' : `All ${study.days.length} days of the plan are`} driven: a further run is marked as more than was planned.`;
  const day = `Day ${next.place + 1} of ${study.days.length}, in the order ${lettersOf(study, next.planned)}.`;
  const left = next.driven.some((id, at) => at < next.planned.length && id !== next.planned[at]);
  const off = left ? ' What was driven so far left that order: it stays, marked.' : '';
  if (next.setupId === null)
    return `${day}${off} It is driven: a further run is marked as more than was planned.`;
  return `${day}${off} Next is run ${next.driven.length + 1}: ${setupWords(study, next.setupId)}.`;
}

/** Where one run would stand in the plan, and whether what is chosen for it is what is next there. */
export function runWords(study: StudyToDrive, next: NextToDrive, chosenId: string | undefined): string {
  if (next.setupId === null) return `${planWords(study, next)} So would this one be.`;
  const day = `Day ${next.place + 1} of ${study.days.length}, in the order ${lettersOf(study, next.planned)}.`;
  const place = `This is run ${next.driven.length + 1} of it`;
  const planned = setupWords(study, next.setupId);
  if (!chosenId) return `${day} ${place}: ${planned}, by the plan.`;
  if (chosenId === next.setupId) return `${day} ${place}, ${planned}, as planned.`;
  return `${day} ${place}, for which the plan has ${planned}: with another setup it stays in the study, marked.`;
}
