import { headers } from 'next/headers';
import type { NextAuthOptions, User } from 'next-auth';
import CredentialsProvider from 'next-auth/providers/credentials';
import { LONGEST_MS } from '@/lib/access/signInLimits';
import { settleDisplay } from '@/lib/registry/accounts/display';
import { signIn } from '@/lib/registry/accounts/signIn';
import { signInExternal } from '@/lib/registry/accounts/signInExternal';
import { beginSignIn, keyOfSignIn, signOut } from '@/lib/registry/accounts/signIns';
import { displayOfCookie, keepInCookie } from './displayCookie';
import { externalProviders } from './externalProviders';
import { knownDevice, rememberDevice } from './knownDevice';
import { networkAddress } from './networkAddress';
import { registry } from './registry';
import { waitCode } from './waitCode';

/** What a token carries: who, by which sign-in, and of which epoch. The role is looked up at each request. */
declare module 'next-auth' {
  interface User {
    accountId?: string;
    sessionEpoch?: number;
  }
  interface Session {
    accountId?: string;
    sessionEpoch?: number;
    signInKey?: string;
  }
}
declare module 'next-auth/jwt' {
  interface JWT {
    accountId?: string;
    sessionEpoch?: number;
    signInId?: string;
  }
}

export const authOptions: NextAuthOptions = {
  session: { strategy: 'jwt', maxAge: LONGEST_MS / 1000 },
  pages: { signIn: '/sign-in', error: '/sign-in' },
  providers: [
    CredentialsProvider({
      name: 'E-mail and password',
      credentials: { email: { type: 'email' }, password: { type: 'password' }, code: { type: 'text' } },
      async authorize(credentials): Promise<User | null> {
        if (!credentials) return null;
        const [address, device] = [await networkAddress(), await knownDevice(String(credentials.email))];
        const result = await signIn(registry(), { ...credentials, address, device });
        if (!result.ok) {
          if (result.reason === 'tooSoon') throw new Error(waitCode(result.waitS));
          if (result.reason !== 'wrong') throw new Error(result.reason);
          return null;
        }
        await rememberDevice(String(credentials.email));
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
      await signOut(registry(), token ?? {});
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
        if (user.accountId !== undefined) {
          const userAgent = (await headers()).get('user-agent');
          token.signInId = await beginSignIn(registry(), { accountId: user.accountId, userAgent });
        }
      }
      // The token needs neither address nor picture.
      token.email = undefined;
      token.picture = undefined;
      return token;
    },
    async session({ session, token }) {
      session.accountId = token.accountId;
      session.sessionEpoch = token.sessionEpoch;
      // Scripts may read what a session holds: the hash, not the id.
      if (token.signInId !== undefined) session.signInKey = keyOfSignIn(token.signInId);
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
