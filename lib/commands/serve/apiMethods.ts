/**
 * What the interface for programs answers by which method, so that any other one is refused in a form that they read
 * (RFC 9110, 15.5.6; RFC 9457): the framework's own refusal has no body and does not say what is allowed. Where a whole
 * segment stands for any, `*`; the last may stand for several, `**`.
 */
export const API_METHODS: ReadonlyMap<string, readonly string[]> = new Map([
  ['/api/auth/**', ['GET', 'POST']],
  ['/api/field/days', ['POST']],
  ['/api/field/lists', ['GET']],
  ['/api/field/runs', ['POST']],
  ['/api/field/runs/*', ['GET']],
  ['/api/health', ['GET']],
  ['/api/health/live', ['GET']],
  ['/api/health/ready', ['GET']],
  ['/api/runs/*/draft', ['PUT']],
  ['/api/runs/*/evidence', ['POST']],
  ['/api/runs/*/evidence/*', ['DELETE', 'PUT']],
  ['/api/runs/*/trace', ['GET', 'POST']],
  ['/api/session-sheets/*', ['GET', 'PUT']],
  ['/api/unsubscribe', ['GET', 'POST']],
  ['/api/v1/own/**', ['DELETE', 'GET', 'PATCH', 'POST', 'PUT']],
  ['/api/v1/**', ['GET']],
  ['/api/v1/openapi.json', ['GET']],
]);

const PATTERNS = [...API_METHODS].map(([address, methods]) => ({
  pattern: new RegExp(`^${address.replace('/**', '/.+').replaceAll('/*', '/[^/]+')}/?$`),
  methods,
}));

/** The methods of an address, in the words of `Allow`; undefined where it takes this one or is none of the interface. */
export function allowedInstead(path: string, method: string | undefined): string | undefined {
  const methods = PATTERNS.find(({ pattern }) => pattern.test(path))?.methods;
  if (methods === undefined) return undefined;
  const allowed = [...methods, ...(methods.includes('GET') ? ['HEAD'] : []), 'OPTIONS'];
  return method !== undefined && allowed.includes(method) ? undefined : allowed.sort().join(', ');
}
