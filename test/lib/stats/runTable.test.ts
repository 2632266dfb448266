import { describe, expect, it } from 'vitest';
import { rowAt } from '@/lib/stats/runColumns';
import { readRunTable } from '@/lib/stats/runTable';

const read = (text: string, scale: 'log' | 'identity' = 'log') => {
  const records = text.split('\n').map((line) => line.split(','));
  return readRunTable(
    records,
    records.map((_, i) => i + 1),
    scale,
  );
};

describe('a table of runs', () => {
  it('takes the logarithm, keeps what is there and drops what is not', () => {
    const { runs, drop, problems } = read('value,setup,u,remark\n100,low,0.01,dry\n110,high,0.02,');
    expect(problems).toEqual([]);
    expect(drop).toEqual(['car', 'carLoop', 'session']);
    expect([rowAt(runs, 0), rowAt(runs, 1)]).toEqual([
      { setup: 'low', car: 'all', session: 'all', z: Math.log(100), u: 0.01 },
      { setup: 'high', car: 'all', session: 'all', z: Math.log(110), u: 0.02 },
    ]);
  });

  it('takes values as they are on the identity scale, with loop, model and run', () => {
    const { runs, models, drop } = read(
      'run,setup,car,session,value,loop,model\nr1,low,k,1,-3.5,coast,Aster',
      'identity',
    );
    expect(drop).toEqual([]);
    expect(rowAt(runs, 0)).toEqual({
      runId: 'r1',
      setup: 'low',
      car: 'k',
      session: '1',
      z: -3.5,
      u: 0,
      loop: 'coast',
    });
    expect(models?.get('low')).toBe('Aster');
  });

  it.each([
    ['', 1, 'setup'],
    ['setup,value', 1, ''],
    ['car,value\nk,1', 1, 'setup'],
    ['setup,setup,value\na,b,1', 1, 'setup'],
    ['setup,value\na,1\na,x', 3, 'value'],
    ['setup,value\na,1\na,', 3, 'value'],
    ['setup,value\na,0', 2, 'value'],
    ['setup,value\na,"1,5"', 2, 'value'],
    ['setup,value\na,Infinity', 2, 'value'],
    ['setup,value\n,3', 2, 'setup'],
    ['setup,car,value\na,,3', 2, 'car'],
    ['setup,value,u\na,3,-1', 2, 'u'],
    ['setup,value,u\na,3,few', 2, 'u'],
    ['setup,value,u\na,3,0.1\na,3,', 3, 'u'],
    ['setup,value,model\na,3,x\na,3,y', 3, 'model'],
  ])('tells the row and column of what is wrong: %j', (text, line, column) => {
    const { problems } = read(text);
    expect(problems.length).toBeGreaterThan(0);
    expect(problems[0]).toMatchObject({ line, column });
    expect(problems[0]?.message.length).toBeGreaterThan(10);
  });

  it('says that an empty file is empty', () => {
    expect(readRunTable([], [], 'log').problems).toEqual([
      { line: 1, column: '', message: 'the file is empty; give a header and one run a line' },
    ]);
  });

  it('tells all that is wrong at once', () => {
    expect(read('setup,value,u\n,x,-1\nb,0,0.1').problems.map((p) => `${p.line} ${p.column}`)).toEqual([
      '2 setup',
      '2 value',
      '2 u',
      '3 value',
    ]);
  });
});
