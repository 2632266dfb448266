import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Approvals, carTies, clusterTesters, reviewerTies } from '@/lib/stats/testerClusters';

const approvals = (table: Record<string, Record<string, number>>): Approvals[] =>
  Object.entries(table).flatMap(([reviewer, testers]) =>
    Object.entries(testers).map(([tester, runs]) => ({ reviewer, tester, runs })),
  );

describe('testers that count as one', () => {
  it('are joined through others, each cluster under its first name', () => {
    const clusters = clusterTesters(
      ['di', 'cy', 'bo', 'al'],
      [
        ['cy', 'bo'],
        ['bo', 'al'],
      ],
    );
    expect(Object.fromEntries(clusters)).toEqual({ al: 'al', bo: 'al', cy: 'al', di: 'di' });
  });

  it('are an equivalence, whatever the order of the ties', () => {
    const name = fc.constantFrom(...'abcdefgh');
    fc.assert(
      fc.property(fc.array(fc.tuple(name, name)), fc.nat(), (ties, seed) => {
        const clusters = clusterTesters('abcdefgh', ties);
        for (const [a, b] of ties) expect(clusters.get(a)).toBe(clusters.get(b));
        for (const own of clusters.values()) expect(clusters.get(own)).toBe(own);
        const turned = [...ties.slice(seed % (ties.length + 1)), ...ties.slice(0, seed % (ties.length + 1))];
        const other = clusterTesters(
          'hgfedcba',
          turned.map(([a, b]) => [b, a] as const),
        );
        expect(new Map([...other].sort())).toEqual(new Map([...clusters].sort()));
      }),
    );
  });

  it('are those of one car', () => {
    const runs = [
      { car: 'k', tester: 'bo' },
      { car: 'k', tester: 'al' },
      { car: 'k', tester: 'al' },
      { car: 'l', tester: 'cy' },
    ];
    expect(carTies(runs)).toEqual([['bo', 'al']]);
  });
});

describe('a reviewer', () => {
  it('who reads for everybody joins nobody, alone or with another', () => {
    expect(reviewerTies(approvals({ ada: { al: 20, bo: 9, cy: 1, di: 1 } }))).toEqual([]);
    expect(reviewerTies(approvals({ ada: { al: 20, bo: 9, cy: 1, di: 1 }, eve: { cy: 3 } }))).toEqual([]);
  });

  it('joins those whom they alone approve, where that is most of what they do and not most of what counts', () => {
    const puppets = { p1: 3, p2: 3, p3: 3 };
    const honest = { al: 20, bo: 9 };
    const ties = reviewerTies(approvals({ ada: honest, eve: puppets }));
    expect(ties).toEqual([
      ['eve', 'p1'],
      ['eve', 'p2'],
      ['eve', 'p3'],
    ]);
    // one run of a puppet that somebody else approved parts it
    expect(reviewerTies(approvals({ ada: { ...honest, p1: 1 }, eve: puppets }))).toEqual(ties.slice(1));
    // who mostly approves runs that others approve as well is not there for these
    const busy = { ...puppets, al: 6, bo: 6 };
    expect(reviewerTies(approvals({ ada: honest, eve: busy }))).toEqual([]);
  });

  it('and a tester who approve each other are one, where a third was there to ask', () => {
    const pair = { eve: { pip: 2, al: 30, bo: 30 }, pip: { eve: 2, al: 30, bo: 30 } };
    expect(reviewerTies(approvals(pair))).toEqual([]);
    expect(reviewerTies(approvals({ ...pair, ada: { al: 90 } }))).toEqual([['eve', 'pip']]);
  });
});
