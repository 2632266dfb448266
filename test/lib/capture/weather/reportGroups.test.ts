import { describe, expect, it } from 'vitest';
import { sortGroups } from '@/lib/capture/weather/reportGroups';

describe('groups without a value', () => {
  it.each(['//////KT', '////', '//', 'FEW///', '///CB'])('%s counts as not reported', (group) => {
    const sorted = sortGroups(`METAR ZZAA 221630Z ${group} 10/08`);
    expect([...sorted.notReported, ...sorted.groups.map(({ text }) => text)]).toContain(group);
    expect(sorted.unread).toEqual([]);
  });

  it.each(['A/B', '10//x', '//!'])('%s is a group of no known form', (group) => {
    expect(sortGroups(`METAR ZZAA 221630Z ${group}`).unread).toEqual([group.toUpperCase()]);
  });

  it('a long run of slashes with a foreign end takes no time worth speaking of', () => {
    const startedAt = performance.now();
    expect(sortGroups(`METAR ZZAA 221630Z ${'/'.repeat(1900)}!`).unread).toHaveLength(1);
    expect(performance.now() - startedAt).toBeLessThan(200);
  });
});
