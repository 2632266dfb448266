// The web process. Next is imported here as it stands; only what is ours is loaded as TypeScript.
import { tsImport } from 'tsx/esm/api';

const isDev = process.argv.includes('--dev');
process.env.NODE_ENV = isDev ? 'development' : 'production';
const { default: next } = await import('next');
const { serveWeb } = await tsImport('./serveWeb.ts', import.meta.url);
await serveWeb(next, { isDev, host: process.env.HOST || '127.0.0.1', port: Number(process.env.PORT) });
