import type { NextAuthOptions, User } from 'next-auth';
import CredentialsProvider from 'next-auth/providers/credentials';
import { settleDisplay } from '@/lib/registry/accounts/display';
import { signIn } from '@/lib/registry/accounts/signIn';
import { signInExternal } from '@/lib/registry/accounts/signInExternal';
import { recordSignOut } from '@/lib/registry/accounts/signOut';
import { displayOfCookie, keepInCookie } from './displayCookie';
import { externalProviders } from './externalProviders';
import { registry } from './registry';

/** What a token carries: who, and which epoch of sessions it belongs to. The role is looked up at each request. */
declare module 'next-auth' {
  interface User {
    accountId?: string;
    sessionEpoch?: number;
  }
  interface Session {
    accountId?: string;
    sessionEpoch?: number;
  }
}
declare module 'next-auth/jwt' {
  interface JWT {
    accountId?: string;
    sessionEpoch?: number;
  }
}

const DAY_S = 24 * 60 * 60;

export const authOptions: NextAuthOptions = {
  session: { strategy: 'jwt', maxAge: 30 * DAY_S },
  pages: { signIn: '/sign-in', error: '/sign-in' },
  providers: [
    CredentialsProvider({
      name: 'E-mail and password',
      credentials: { email: { type: 'email' }, password: { type: 'password' } },
      async authorize(credentials): Promise<User | null> {
        if (!credentials) return null;
        const result = await signIn(registry(), credentials);
        if (!result.ok) {
          if (result.reason === 'tooManyTries') throw new Error('tooManyTries');
          return null;
        }
        await takeDisplayAlong(result.accountId);
        return {
          id: result.accountId,
          name: result.displayName,
          accountId: result.accountId,
          sessionEpoch: result.sessionEpoch,
        };
      },
    }),
    ...externalProviders(),
  ],
  events: {
    async signOut({ token }) {
      await recordSignOut(registry(), token?.accountId);
    },
  },
  callbacks: {
    async signIn({ user, account, profile }) {
      if (account === null || account.provider === 'credentials') return true;
      const found = await signInExternal(registry(), {
        provider: account.provider,
        providerAccountId: account.providerAccountId,
        email: user.email ?? undefined,
        isEmailVerified: isEmailVerified(profile),
        name: user.name ?? undefined,
      });
      if (found === undefined) return '/sign-in?error=addressInUse';
      await takeDisplayAlong(found.accountId);
      user.accountId = found.accountId;
      user.sessionEpoch = found.sessionEpoch;
      user.name = found.displayName;
      return true;
    },
    async jwt({ token, user }) {
      if (user) {
        token.accountId = user.accountId;
        token.sessionEpoch = user.sessionEpoch;
      }
      // The token needs neither address nor picture.
      token.email = undefined;
      token.picture = undefined;
      return token;
    },
    async session({ session, token }) {
      session.accountId = token.accountId;
      session.sessionEpoch = token.sessionEpoch;
      return session;
    },
  },
};

/** The account's units and appearance come to this browser, or the browser's to an account that has none. */
async function takeDisplayAlong(accountId: string): Promise<void> {
  const settled = await settleDisplay(registry(), accountId, await displayOfCookie());
  if (settled !== undefined) await keepInCookie(settled);
}

function isEmailVerified(profile: unknown): boolean {
  return (
    typeof profile === 'object' &&
    profile !== null &&
    'email_verified' in profile &&
    profile.email_verified === true
  );
}
