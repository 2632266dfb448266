import { describe, expect, it } from 'vitest';
import { ACTIONS, type Action, may } from '@/lib/access/permissions';
import { ROLES, type Role } from '@/lib/run/roles';
import { DEMO } from '@/lib/run/world';

/** Own table, written from the product's words and not from the code: role × (own, of another) per action. */
const EXPECTED: Record<Action, Record<Role, [own: boolean, others: boolean]>> = {
  recordRun: { reader: [false, false], tester: [true, true], reviewer: [true, true], steward: [true, true] },
  makeToken: { reader: [false, false], tester: [true, true], reviewer: [true, true], steward: [true, true] },
  editRun: { reader: [false, false], tester: [true, false], reviewer: [true, false], steward: [true, false] },
  readPrivateRun: {
    reader: [true, false],
    tester: [true, false],
    reviewer: [true, true],
    steward: [true, true],
  },
  readQueue: {
    reader: [false, false],
    tester: [false, false],
    reviewer: [true, true],
    steward: [true, true],
  },
  readReports: {
    reader: [false, false],
    tester: [false, false],
    reviewer: [true, true],
    steward: [true, true],
  },
  settleReport: {
    reader: [false, false],
    tester: [false, false],
    reviewer: [false, true],
    steward: [false, true],
  },
  askForTest: {
    reader: [true, true],
    tester: [true, true],
    reviewer: [true, true],
    steward: [true, true],
  },
  closeRequest: {
    reader: [true, false],
    tester: [true, false],
    reviewer: [true, false],
    steward: [true, false],
  },
  hideRequest: {
    reader: [false, false],
    tester: [false, false],
    reviewer: [false, false],
    steward: [true, true],
  },
  keepOtherRegistries: {
    reader: [false, false],
    tester: [false, false],
    reviewer: [false, false],
    steward: [true, true],
  },
  curateNames: {
    reader: [false, false],
    tester: [false, false],
    reviewer: [false, false],
    steward: [true, true],
  },
  reviewRun: {
    reader: [false, false],
    tester: [false, false],
    reviewer: [false, true],
    steward: [false, true],
  },
  declareInterest: {
    reader: [false, false],
    tester: [false, false],
    reviewer: [true, true],
    steward: [true, true],
  },
  appealRun: {
    reader: [false, false],
    tester: [true, false],
    reviewer: [true, false],
    steward: [true, false],
  },
  retractRun: {
    reader: [false, false],
    tester: [true, false],
    reviewer: [true, false],
    steward: [true, true],
  },
  holdRun: {
    reader: [false, false],
    tester: [false, false],
    reviewer: [false, false],
    steward: [false, true],
  },
  actOnManyRuns: {
    reader: [false, false],
    tester: [false, false],
    reviewer: [false, false],
    steward: [true, true],
  },
  addCar: { reader: [false, false], tester: [true, true], reviewer: [true, true], steward: [true, true] },
  planStudy: { reader: [false, false], tester: [true, true], reviewer: [true, true], steward: [true, true] },
  changeStudy: {
    reader: [false, false],
    tester: [true, false],
    reviewer: [true, false],
    steward: [true, false],
  },
  editCar: { reader: [false, false], tester: [true, false], reviewer: [true, false], steward: [true, false] },
  addModel: { reader: [false, false], tester: [true, true], reviewer: [true, true], steward: [true, true] },
  stateCharging: {
    reader: [false, false],
    tester: [true, false],
    reviewer: [true, false],
    steward: [true, true],
  },
  addLoop: { reader: [false, false], tester: [true, true], reviewer: [true, true], steward: [true, true] },
  correctLoop: {
    reader: [false, false],
    tester: [true, false],
    reviewer: [true, false],
    steward: [true, true],
  },
  correctModel: {
    reader: [false, false],
    tester: [true, false],
    reviewer: [true, false],
    steward: [true, true],
  },
  readCorrection: {
    reader: [true, false],
    tester: [true, false],
    reviewer: [true, true],
    steward: [true, true],
  },
  decideCorrection: {
    reader: [false, false],
    tester: [false, false],
    reviewer: [false, true],
    steward: [false, true],
  },
  withdrawCorrection: {
    reader: [false, false],
    tester: [true, false],
    reviewer: [true, false],
    steward: [true, true],
  },
  manageRoles: {
    reader: [false, false],
    tester: [false, false],
    reviewer: [false, false],
    steward: [true, true],
  },
  manageProtocol: {
    reader: [false, false],
    tester: [false, false],
    reviewer: [false, false],
    steward: [true, true],
  },
  chooseLicence: {
    reader: [false, false],
    tester: [false, false],
    reviewer: [false, false],
    steward: [true, true],
  },
  refitRankings: {
    reader: [false, false],
    tester: [false, false],
    reviewer: [false, false],
    steward: [true, true],
  },
  adoptRoadLoads: {
    reader: [false, false],
    tester: [false, false],
    reviewer: [false, false],
    steward: [true, true],
  },
  mapLevels: {
    reader: [false, false],
    tester: [false, false],
    reviewer: [false, false],
    steward: [true, true],
  },
  loadDemoWorld: {
    reader: [false, false],
    tester: [false, false],
    reviewer: [false, false],
    steward: [true, true],
  },
  readAuditLog: {
    reader: [false, false],
    tester: [false, false],
    reviewer: [false, false],
    steward: [true, true],
  },
};

describe('who may do what', () => {
  it.each(ACTIONS.flatMap((action) => ROLES.map((role) => [action, role] as const)))(
    '%s as %s',
    (action, role) => {
      const actor = { accountId: 'me', role };
      expect([may(actor, action, 'me'), may(actor, action, 'someone else')]).toEqual(EXPECTED[action][role]);
    },
  );

  it.each(ACTIONS)('%s is refused to a visitor without account', (action) => {
    expect(may(undefined, action, 'me')).toBe(false);
  });

  it('nobody reviews a run whose tester is not known', () => {
    expect(may({ accountId: 'me', role: 'steward' }, 'reviewRun')).toBe(false);
  });

  it.each(['reviewer', 'steward'] as const)('a demo %s has no say over what is not demo', (role) => {
    const demo = { accountId: 'me', role, world: DEMO };
    for (const action of ['readPrivateRun', 'reviewRun', 'retractRun', 'holdRun'] as const) {
      const expected = EXPECTED[action][role][1];
      expect(may(demo, action, 'someone else', 'demo'), action).toBe(expected);
      expect(may(demo, action, 'someone else', 'record'), action).toBe(false);
      expect(may(demo, action, 'someone else', 'import:elsewhere'), action).toBe(false);
      // What does not say that it is demo is taken for real.
      expect(may(demo, action, 'someone else'), action).toBe(false);
    }
    expect(may(demo, 'manageRoles', undefined, 'record')).toBe(false);
    expect(may(demo, 'addModel', undefined, 'record')).toBe(false);
    expect(may(demo, 'addModel', undefined, 'demo')).toBe(true);
    expect(may(demo, 'editRun', 'me', 'demo')).toBe(true);
  });
});
