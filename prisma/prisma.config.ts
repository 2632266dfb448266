import { defineConfig } from 'prisma/config';

// The client is made from the schema alone. Migrations are applied by the app (lib/store/migrate); the
// folder keeps Prisma's layout, so that its own command line works on it where its engine can be had.
export default defineConfig({
  schema: 'schema.prisma',
  migrations: { path: 'migrations' },
  datasource: { url: process.env.DATABASE_URL ?? '' },
});
