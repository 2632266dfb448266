import { readdirSync, readFileSync } from 'node:fs';

/** A way into the app from outside: an exported server action, a method of a route, or a page. */
export interface Door {
  key: string;
  /** Its module, from the root. */
  file: string;
  kind: 'action' | 'route' | 'page';
  name: string;
}

const METHODS = /\bexport\s+(?:(?:async\s+)?function|const|\{)\s*(GET|POST|PUT|PATCH|DELETE)\b/g;

/** Found in the sources, so that none can be added without being seen. */
export function doorsOfApp(root = 'app'): Door[] {
  return readdirSync(root, { recursive: true, encoding: 'utf8' })
    .filter((file) => /\.tsx?$/.test(file))
    .map((file) => `${root}/${file}`)
    .sort()
    .flatMap((file): Door[] => {
      const source = readFileSync(file, 'utf8');
      const short = file.slice(root.length + 1);
      const door = (kind: Door['kind'], name: string) => ({
        key: name === '' ? short : `${short} ${name}`,
        file,
        kind,
        name,
      });
      if (/\/page\.tsx$/.test(file) || file === `${root}/page.tsx`) return [door('page', '')];
      if (/\/route\.tsx?$/.test(file)) {
        const names = [...source.matchAll(METHODS)].map(([, method]) => method ?? '');
        const renamed = [...source.matchAll(/\bas (GET|POST|PUT|PATCH|DELETE)\b/g)].map(([, m]) => m ?? '');
        return [...new Set([...names, ...renamed])].map((name) => door('route', name));
      }
      if (!/^\s*['"]use server['"]/m.test(source)) return [];
      return [...source.matchAll(/\bexport\s+(?:async\s+function|const|let)\s+(\w+)/g)].map(([, name = '']) =>
        door('action', name),
      );
    });
}
