/**
 * `npm run bench` measures everything that is quick enough; `npm run bench -- coverage fit …` only what is named. A
 * number goes to the bench that takes one (`-- clone 5000`).
 * Figures are printed side by side; nothing here passes or fails.
 */
const BENCHES: Readonly<
  Record<string, { isSlow: boolean; load: () => Promise<{ bench: () => Promise<void> }> }>
> = {
  normalise: { isSlow: false, load: () => import('./normalise') },
  trace: { isSlow: false, load: () => import('./trace') },
  fit: { isSlow: false, load: () => import('./fit') },
  app: { isSlow: false, load: () => import('./app') },
  estimate: { isSlow: false, load: () => import('./estimate') },
  weight: { isSlow: true, load: () => import('./weight') },
  clone: { isSlow: true, load: () => import('./clone') },
  alarms: { isSlow: true, load: () => import('./alarms') },
  blocking: { isSlow: true, load: () => import('./blocking') },
  coverage: { isSlow: true, load: () => import('./coverage') },
};

const wanted = process.argv.slice(2).filter((argument) => !/^(\d+|https?:.*)$/.test(argument));
const unknown = wanted.filter((name) => BENCHES[name] === undefined);
if (unknown.length > 0) {
  console.error(`No bench called ${unknown.join(', ')}. There are: ${Object.keys(BENCHES).join(', ')}.`);
  process.exit(64);
}
for (const [name, { isSlow, load }] of Object.entries(BENCHES)) {
  if (wanted.length === 0 ? isSlow : !wanted.includes(name)) continue;
  console.log(`\n── ${name}`);
  const { bench } = await load();
  await bench();
}

export {};
