import { readFile } from 'node:fs/promises';
import { gzipSync } from 'node:zlib';
import { z } from 'zod';
import { onDemoWorld, stop } from './builtApp';

/** Pages with the most to draw; a pattern stands for the first link of the page before it that it fits. */
const PLACES: readonly { name: string; from: string; link?: RegExp }[] = [
  { name: 'rankings', from: '/rankings' },
  { name: 'run', from: '/runs', link: /href="(\/runs\/\d+)"/ },
  { name: 'setup', from: '/rankings', link: /href="(\/setups\/[^"]+)"/ },
  { name: 'compare', from: '/models', link: /href="(\/models\/[^"]+)"/ },
];
const COMPARISON = /href="(\/compare\?[^"]*setup=[^"]*)"/;

/**
 * What a first visit of a page costs to load: its document, the scripts and the styles that it names, as made and as
 * sent (gzip). Of an app that runs already with `-- weight http://127.0.0.1:3000`.
 */
export async function bench(): Promise<void> {
  const given = process.argv.find((argument) => /^https?:/.test(argument));
  if (given !== undefined) return weigh(given);
  await onDemoWorld(async ({ address, start }) => {
    const app = await start();
    await weigh(address);
    await stop(app);
  });
}

/** The pages that are measured, as this registry has them. */
export async function placesOf(address: string): Promise<{ name: string; path: string }[]> {
  const places: { name: string; path: string }[] = [];
  for (const { name, from, link } of PLACES) {
    let path = link === undefined ? from : await found(address, from, link);
    if (name === 'compare' && path !== undefined) path = await found(address, path, COMPARISON);
    if (path === undefined) console.log(`${name}: no such page in this registry`);
    else places.push({ name, path });
  }
  return places;
}

async function weigh(address: string): Promise<void> {
  const framework = await frameworkFiles();
  for (const { name, path } of await placesOf(address)) {
    const document = await fetched(address, path);
    const text = document.toString();
    const scripts = [
      ...new Set([...text.matchAll(/<script[^>]* src="([^"]+)"/g)].map(([, src = '']) => src)),
    ];
    const own = scripts.filter((script) => !framework.some((file) => script.includes(file)));
    const styles = [
      ...new Set([...text.matchAll(/<link[^>]* href="([^"]+\.css[^"]*)"/g)].map(([, href = '']) => href)),
    ];
    console.log(
      `${name} (${path.slice(0, 60)}): document ${size([document])}; ${scripts.length} scripts ${size(await all(address, scripts))}, of them ${own.length} over a bare page’s ${size(await all(address, own))}; ${styles.length} styles ${size(await all(address, styles))}`,
    );
  }
}

/** What the build gives every page, an empty one too: the framework itself. */
async function frameworkFiles(): Promise<string[]> {
  const manifest = JSON.parse(await readFile('.next/build-manifest.json', 'utf8'));
  return z
    .object({ rootMainFiles: z.array(z.string()), polyfillFiles: z.array(z.string()) })
    .transform(({ rootMainFiles, polyfillFiles }) => [...rootMainFiles, ...polyfillFiles])
    .parse(manifest);
}

async function found(address: string, path: string, link: RegExp): Promise<string | undefined> {
  return link.exec((await fetched(address, path)).toString())?.[1]?.replaceAll('&amp;', '&');
}

const all = (address: string, paths: readonly string[]) =>
  Promise.all(paths.map((path) => fetched(address, path.replaceAll('&amp;', '&'))));

async function fetched(address: string, path: string): Promise<Buffer> {
  return Buffer.from(await (await fetch(new URL(path, address))).arrayBuffer());
}

function size(files: readonly Buffer[]): string {
  const kilobytes = (measure: (file: Buffer) => number) =>
    (files.reduce((sum, file) => sum + measure(file), 0) / 1000).toFixed(0);
  return `${kilobytes((file) => file.length)} kB, ${kilobytes((file) => gzipSync(file).length)} kB sent`;
}
