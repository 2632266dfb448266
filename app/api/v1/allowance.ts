import { TooSoon } from '@/lib/run/errors';

/** Reads of one network in one window, and how long that is: a program that walks a whole registry fits in. */
export const READS_A_WINDOW = 600;
export const WINDOW_S = 600;
const READS = { name: 'reads', quota: READS_A_WINDOW, windowS: WINDOW_S };
/** Networks that are counted at once; beyond them the oldest are forgotten. */
const MOST_NETWORKS = 10_000;

interface Window {
  endsAtMs: number;
  used: number;
}

export interface Allowance {
  readonly left: number;
  readonly resetS: number;
}

/** Counts reads by network in fixed windows. Kept in the process: it is to keep one program from taking all of it. */
export class ReadAllowance {
  readonly #windows = new Map<string, Window>();

  /** Takes one read; throws what says when there is more. */
  take(network: string | undefined, nowMs: number): Allowance {
    // this machine itself, where nobody else can be told apart
    if (network === undefined) return { left: READS_A_WINDOW, resetS: WINDOW_S };
    const known = this.#windows.get(network);
    const window =
      known !== undefined && known.endsAtMs > nowMs ? known : { endsAtMs: nowMs + WINDOW_S * 1000, used: 0 };
    if (window !== known) {
      this.#windows.delete(network);
      this.#windows.set(network, window);
      const oldest = this.#windows.keys().next().value;
      if (this.#windows.size > MOST_NETWORKS && oldest !== undefined) this.#windows.delete(oldest);
    }
    const resetS = Math.ceil((window.endsAtMs - nowMs) / 1000);
    if (window.used >= READS_A_WINDOW) {
      throw new TooSoon(resetS, {
        path: '',
        what: `More than ${READS_A_WINDOW} reads in ${WINDOW_S / 60} minutes.`,
        why: 'The registry is shared by all who read it.',
        fix: 'Wait as long as Retry-After says, or take a snapshot of everything instead.',
      });
    }
    window.used += 1;
    return { left: READS_A_WINDOW - window.used, resetS };
  }
}

/** Headers by draft-ietf-httpapi-ratelimit-headers: a policy and what is left of it, as structured fields (RFC 9651). */
export function allowanceHeaders(
  { left, resetS }: Allowance,
  policy: { name: string; quota: number; windowS: number } = READS,
): Record<string, string> {
  return {
    'RateLimit-Policy': `"${policy.name}";q=${policy.quota};w=${policy.windowS}`,
    RateLimit: `"${policy.name}";r=${left};t=${resetS}`,
  };
}
