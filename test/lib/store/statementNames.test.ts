import { expect, it } from 'vitest';
import { statementNames } from '@/lib/store/statementNames';

const often = (name: ReturnType<typeof statementNames>, sql: string) =>
  Array.from({ length: 4 }, () => name({ sql }));

it('names a statement once it was asked three times, and keeps the name', () => {
  const name = statementNames();
  expect(often(name, 'SELECT 1')).toEqual(['', '', 's0', 's0']);
  expect(often(name, 'SELECT 2')).toEqual(['', '', 's1', 's1']);
  expect(name({ sql: 'SELECT 1' })).toBe('s0');
  expect(name({ sql: '__proto__' })).toBe('');
});

it('names no more than a connection should keep, whatever comes', () => {
  const name = statementNames();
  const names = new Set(Array.from({ length: 1000 }, (_, k) => often(name, `SELECT ${k}`).at(-1)));
  expect(names.size).toBe(301);
  expect(names.has('')).toBe(true);
});

it('forgets what came once, however much of it there is', () => {
  const name = statementNames();
  for (let k = 0; k < 10_000; k++) expect(name({ sql: `SELECT ${k}` })).toBe('');
  expect(often(name, 'SELECT now()').at(-1)).toBe('s0');
});
