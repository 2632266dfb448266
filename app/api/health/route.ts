// The address from before there were two: it answers as /api/health/ready does.
export { GET } from './ready/route';

export const dynamic = 'force-dynamic';
