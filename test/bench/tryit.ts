import { runCoverage, scopeRatio } from '@/test/bench/budgetCoverage';

for (const s of ['run', 'car'] as const) console.log(s, scopeRatio(s, [500, 501, 502, 503, 504, 505]));
console.log(runCoverage([500, 501, 502, 503]));
