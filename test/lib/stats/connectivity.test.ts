import { describe, expect, it } from 'vitest';
import { DisjointSets, Links } from '@/lib/stats/connectivity';
import { layOutRuns } from '@/lib/stats/structure';

const run = (setup: string, car: string, session: string) => ({ setup, car, session, z: 0, u: 0 });

describe('links between setups', () => {
  // a and b meet in a session; b and c in a car on two days; c and d in another car; e stands alone.
  const links = new Links(
    layOutRuns([
      run('a', 'k', '1'),
      run('b', 'k', '1'),
      run('b', 'l', '1'),
      run('c', 'l', '2'),
      run('c', 'm', '1'),
      run('d', 'm', '2'),
      run('e', 'n', '1'),
    ]),
  );

  it('tells session, car, chain and nothing apart', () => {
    expect(links.kind(0, 1)).toBe('session');
    expect(links.kind(1, 2)).toBe('car');
    expect(links.kind(0, 2)).toBe('indirect');
    expect(links.kind(0, 3)).toBe('indirect');
    expect(links.kind(0, 4)).toBe('none');
    expect(links.kind(3, 0)).toBe('indirect');
  });

  it('counts the cars of the shortest chain', () => {
    expect([links.chainLength(0, 1), links.chainLength(0, 2), links.chainLength(0, 3)]).toEqual([1, 2, 3]);
    expect(links.chainLength(0, 4)).toBe(0);
  });

  it('lists the components', () => {
    expect(links.connectivity.byCar).toEqual([['a', 'b', 'c', 'd'], ['e']]);
    expect(links.connectivity.bySession).toEqual([['a', 'b'], ['c'], ['d'], ['e']]);
  });

  it('keeps equal session names of two cars apart', () => {
    const same = new Links(layOutRuns([run('a', 'k', '1'), run('b', 'l', '1')]));
    expect(same.kind(0, 1)).toBe('none');
  });
});

describe('disjoint sets', () => {
  it('joins and lists', () => {
    const sets = new DisjointSets(5);
    sets.join(0, 3);
    sets.join(3, 4);
    sets.join(4, 0);
    expect(sets.find(0)).toBe(sets.find(4));
    expect(sets.groups()).toEqual([[0, 3, 4], [1], [2]]);
  });
});
