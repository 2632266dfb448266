import { describe, expect, it } from 'vitest';
import { KEPT, keptRow, keyOf } from '@/lib/openData/other/kept';
import { TABLES } from '@/lib/openData/tables/allTables';
import { CONTRASTS } from '@/lib/openData/tables/fitTables';

describe('what is kept of another registry’s snapshot', () => {
  it('is of its tables, by columns that they have', () => {
    for (const { table, under, without = [] } of KEPT) {
      const names = table.columns.map(({ name }) => name);
      expect(TABLES).toContain(table);
      for (const name of [...without, ...(under === undefined ? [] : [under])]) expect(names).toContain(name);
      // what a row is found by stays in it
      for (const name of table.key) expect(without).not.toContain(name);
    }
  });

  it('has no reading, no decision and no plan of theirs', () => {
    const kept = new Set(KEPT.map(({ table }) => table.name));
    for (const name of [
      'readings',
      'conditions',
      'inputs',
      'recordings',
      'decisions',
      'findings',
      'study_plans',
    ])
      expect(kept).not.toContain(name);
  });

  it('is a row as it was published, found by its key', () => {
    const row = { cruise_class: 'kmh-110', setup_a: 'a', setup_b: 'b', word: 'settled' };
    const kept = KEPT.find(({ table }) => table === CONTRASTS);
    expect(kept && keptRow(kept, row)).toEqual({ key: keyOf('kmh-110', 'a', 'b'), under: 'kmh-110', row });
    expect(keptRow({ table: CONTRASTS, without: ['word'] }, row).row).not.toHaveProperty('word');
  });
});
