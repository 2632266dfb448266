import { type Actor, atLeast, type Role } from '@/lib/run/roles';
import { onlyWorldOf, type WorldKey } from '@/lib/run/world';

/** Whose thing it has to be, seen from the one who acts. */
type Relation = 'anyone' | 'own' | 'others' | 'ownOrReviewer' | 'ownOrSteward';

interface Permission {
  leastRole: Role;
  relation: Relation;
  /** What is said to one who may not. */
  refusal: string;
}

/** Who may do what. Pages hide what is refused here, but only the use cases' own question counts. */
const PERMISSIONS = {
  recordRun: { leastRole: 'tester', relation: 'anyone', refusal: 'Only testers record runs.' },
  /** A program then does for a tester what testers do. */
  makeToken: { leastRole: 'tester', relation: 'anyone', refusal: 'Only testers make tokens for programs.' },
  editRun: { leastRole: 'tester', relation: 'own', refusal: 'Only its tester changes a run.' },
  readPrivateRun: {
    leastRole: 'reader',
    relation: 'ownOrReviewer',
    refusal: 'Until it is approved, a run is seen only by its tester and by reviewers.',
  },
  readQueue: { leastRole: 'reviewer', relation: 'anyone', refusal: 'Only reviewers see the queue.' },
  readReports: { leastRole: 'reviewer', relation: 'anyone', refusal: 'Only reviewers read reports.' },
  /** Who sent it is its owner here. */
  settleReport: {
    leastRole: 'reviewer',
    relation: 'others',
    refusal: 'Reviewers settle reports, and nobody their own.',
  },
  reviewRun: {
    leastRole: 'reviewer',
    relation: 'others',
    refusal: 'Reviewers decide, and nobody on their own runs.',
  },
  declareInterest: {
    leastRole: 'reviewer',
    relation: 'anyone',
    refusal: 'Interests are declared by those who decide on runs.',
  },
  retractRun: {
    leastRole: 'tester',
    relation: 'ownOrSteward',
    refusal: 'Only its tester or a steward retracts a run.',
  },
  appealRun: {
    leastRole: 'tester',
    relation: 'own',
    refusal: 'Only its tester appeals against the rejection of a run.',
  },
  holdRun: {
    leastRole: 'steward',
    relation: 'others',
    refusal: 'Stewards hold runs and lift holds, and nobody on their own runs.',
  },
  /** To see and choose; each run asks for the right of its own act as well. */
  actOnManyRuns: {
    leastRole: 'steward',
    relation: 'anyone',
    refusal: 'Only stewards hold, free or retract many runs at once.',
  },
  addCar: { leastRole: 'tester', relation: 'anyone', refusal: 'Only testers add cars.' },
  editCar: { leastRole: 'tester', relation: 'own', refusal: 'Only its owner changes a car.' },
  addModel: { leastRole: 'tester', relation: 'anyone', refusal: 'Only testers add models and setups.' },
  /** A model is one's own here where one added it or keeps a car of it. */
  stateCharging: {
    leastRole: 'tester',
    relation: 'ownOrSteward',
    refusal:
      'How a model charges is stated by testers who have a car of it, by whoever added it, or by a steward.',
  },
  addLoop: { leastRole: 'tester', relation: 'anyone', refusal: 'Only testers add loops.' },
  correctLoop: {
    leastRole: 'tester',
    relation: 'ownOrSteward',
    refusal: 'A loop is corrected by whoever added it, or by a steward.',
  },
  /** A model is one's own here where one added it or keeps a car of it. */
  correctModel: {
    leastRole: 'tester',
    relation: 'ownOrSteward',
    refusal: 'A model is corrected by testers who have a car of it, by whoever added it, or by a steward.',
  },
  /** Those who proposed it or have a run in it are the owners here. */
  readCorrection: {
    leastRole: 'reader',
    relation: 'ownOrReviewer',
    refusal: 'A correction is seen by who proposed it, by testers of its runs and by reviewers.',
  },
  decideCorrection: {
    leastRole: 'reviewer',
    relation: 'others',
    refusal: 'Reviewers decide, and nobody on a correction of their own or with a run of theirs in it.',
  },
  withdrawCorrection: {
    leastRole: 'tester',
    relation: 'ownOrSteward',
    refusal: 'A correction is taken back by who proposed it, or by a steward.',
  },
  planStudy: {
    leastRole: 'tester',
    relation: 'anyone',
    refusal: 'Only testers plan studies and drive in them.',
  },
  changeStudy: {
    leastRole: 'tester',
    relation: 'own',
    refusal: 'Only whoever planned a study changes its plan or ends it.',
  },
  /** Also to back what others ask for, and to guess how a study ends. */
  askForTest: {
    leastRole: 'reader',
    relation: 'anyone',
    refusal: 'A demo account asks within the demo world alone.',
  },
  closeRequest: {
    leastRole: 'reader',
    relation: 'own',
    refusal: 'Only whoever asked for a test takes the request back.',
  },
  hideRequest: {
    leastRole: 'steward',
    relation: 'anyone',
    refusal: 'Only stewards hide what readers ask for.',
  },
  manageRoles: { leastRole: 'steward', relation: 'anyone', refusal: 'Only stewards change roles.' },
  manageProtocol: { leastRole: 'steward', relation: 'anyone', refusal: 'Only stewards change the protocol.' },
  chooseLicence: {
    leastRole: 'steward',
    relation: 'anyone',
    refusal: 'Only stewards choose the licence of the data.',
  },
  keepOtherRegistries: {
    leastRole: 'steward',
    relation: 'anyone',
    refusal: 'Only stewards bring in numbers of other registries.',
  },
  refitRankings: { leastRole: 'steward', relation: 'anyone', refusal: 'Only stewards ask for a refit.' },
  adoptRoadLoads: {
    leastRole: 'steward',
    relation: 'anyone',
    refusal: 'Only stewards adopt learned road loads.',
  },
  mapLevels: {
    leastRole: 'steward',
    relation: 'anyone',
    refusal: 'Only stewards map levels to shared ones.',
  },
  curateNames: {
    leastRole: 'steward',
    relation: 'anyone',
    refusal: 'Only stewards rename, merge and hide what has a public name.',
  },
  loadDemoWorld: { leastRole: 'steward', relation: 'anyone', refusal: 'Only stewards load the demo world.' },
  readAuditLog: { leastRole: 'steward', relation: 'anyone', refusal: 'Only stewards read the audit log.' },
} as const satisfies Record<string, Permission>;

export type Action = keyof typeof PERMISSIONS;

/**
 * May the actor do this to a thing owned by `ownerId`? Nobody signed in may do none of these. Demo accounts share a
 * password that whoever loaded the demo world knows: what is neither of their world nor their own is closed to them,
 * whatever their role.
 */
export function may(actor: Actor | undefined, action: Action, ownerId?: string, world?: WorldKey): boolean {
  if (actor === undefined) return false;
  const permission: Permission = PERMISSIONS[action];
  if (!atLeast(actor.role, permission.leastRole)) return false;
  const isOwn = ownerId !== undefined && ownerId === actor.accountId;
  const only = onlyWorldOf(actor);
  const isOfThing = ownerId !== undefined || world !== undefined;
  if (only !== undefined && isOfThing && !isOwn && world !== only) return false;
  switch (permission.relation) {
    case 'anyone':
      return true;
    case 'own':
      return isOwn;
    case 'others':
      return ownerId !== undefined && !isOwn;
    case 'ownOrReviewer':
      return isOwn || atLeast(actor.role, 'reviewer');
    case 'ownOrSteward':
      return isOwn || atLeast(actor.role, 'steward');
  }
}

export function refusalOf(action: Action): string {
  return PERMISSIONS[action].refusal;
}

export const ACTIONS = Object.keys(PERMISSIONS) as Action[];
