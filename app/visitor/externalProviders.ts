import type { OAuthConfig } from 'next-auth/providers/oauth';

interface OpenIdProfile {
  sub: string;
  name?: string;
  preferred_username?: string;
  email?: string;
  email_verified?: boolean;
}

/**
 * Any OpenID Connect provider, named by its environment variables; it appears when all of them are set:
 * EVENLOOP_OIDC_ISSUER, EVENLOOP_OIDC_CLIENT_ID, EVENLOOP_OIDC_CLIENT_SECRET and, for the button, EVENLOOP_OIDC_NAME.
 */
export function externalProviders(): OAuthConfig<OpenIdProfile>[] {
  const issuer = process.env.EVENLOOP_OIDC_ISSUER;
  const clientId = process.env.EVENLOOP_OIDC_CLIENT_ID;
  const clientSecret = process.env.EVENLOOP_OIDC_CLIENT_SECRET;
  if (!issuer || !clientId || !clientSecret) return [];
  return [
    {
      id: 'oidc',
      name: process.env.EVENLOOP_OIDC_NAME ?? 'your organisation',
      type: 'oauth',
      wellKnown: `${issuer.replace(/\/$/, '')}/.well-known/openid-configuration`,
      clientId,
      clientSecret,
      idToken: true,
      checks: ['pkce', 'state'],
      authorization: { params: { scope: 'openid email profile' } },
      profile: (profile) => ({
        id: profile.sub,
        name: profile.name ?? profile.preferred_username ?? null,
        email: profile.email ?? null,
      }),
    },
  ];
}

/** Id and name of the providers that the sign-in page offers. */
export function offeredProviders(): { id: string; name: string }[] {
  return externalProviders().map(({ id, name }) => ({ id, name }));
}
