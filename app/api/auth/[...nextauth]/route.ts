import NextAuth from 'next-auth';
import { authOptions } from '@/app/session/authOptions';

const handler = NextAuth(authOptions);

export { handler as GET, handler as POST };
