/** The nonce under which the web process lets this request's scripts run, out of the policy that it sent along. */
export function nonceOf(policy: string | null): string | undefined {
  return /'nonce-([A-Za-z0-9+/=_-]+)'/.exec(policy ?? '')?.[1];
}
