-- Nothing is ranked on accounts alone that nobody vouches for; those from before this was asked are taken as vouched for.
ALTER TABLE "Account" ADD COLUMN     "vouchedAt" TIMESTAMPTZ(3),
ADD COLUMN     "vouchedById" UUID;

-- A run does not count while a hold on it is open.
CREATE TABLE "Hold" (
    "id" UUID NOT NULL,
    "runId" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "reason" TEXT NOT NULL,
    "placedAt" TIMESTAMPTZ(3) NOT NULL,
    "placedById" UUID,
    "liftedAt" TIMESTAMPTZ(3),
    "liftedById" UUID,
    "liftReason" TEXT,

    CONSTRAINT "Hold_pkey" PRIMARY KEY ("id")
);

CREATE INDEX "Hold_runId_placedAt_idx" ON "Hold"("runId", "placedAt");

ALTER TABLE "Account" ADD CONSTRAINT "Account_vouchedById_fkey" FOREIGN KEY ("vouchedById") REFERENCES "Account"("id") ON DELETE SET NULL ON UPDATE CASCADE;

ALTER TABLE "Hold" ADD CONSTRAINT "Hold_runId_fkey" FOREIGN KEY ("runId") REFERENCES "Run"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "Hold" ADD CONSTRAINT "Hold_placedById_fkey" FOREIGN KEY ("placedById") REFERENCES "Account"("id") ON DELETE SET NULL ON UPDATE CASCADE;

ALTER TABLE "Hold" ADD CONSTRAINT "Hold_liftedById_fkey" FOREIGN KEY ("liftedById") REFERENCES "Account"("id") ON DELETE SET NULL ON UPDATE CASCADE;

UPDATE "Account" SET "vouchedAt" = "createdAt";
ALTER TABLE "Account" ADD CONSTRAINT "Account_vouched_at" CHECK ("vouchedById" IS NULL OR "vouchedAt" IS NOT NULL);

CREATE UNIQUE INDEX "Hold_one_open" ON "Hold" ("runId") WHERE "liftedAt" IS NULL;
ALTER TABLE "Hold" ADD CONSTRAINT "Hold_kind" CHECK ("kind" IN ('sharedPictures', 'looking'));
ALTER TABLE "Hold" ADD CONSTRAINT "Hold_lifted_with_reason" CHECK (
  ("liftedAt" IS NULL) = ("liftReason" IS NULL) AND ("liftedById" IS NULL OR "liftedAt" IS NOT NULL));

-- What was held, by whom and why stays; a hold is lifted once.
CREATE FUNCTION refuse_but_lifting() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'UPDATE' AND OLD."liftedAt" IS NULL
    AND (NEW."id", NEW."runId", NEW."kind", NEW."reason", NEW."placedAt")
      = (OLD."id", OLD."runId", OLD."kind", OLD."reason", OLD."placedAt")
    AND NEW."placedById" IS NOT DISTINCT FROM OLD."placedById" THEN
    RETURN NEW;
  END IF;
  RAISE EXCEPTION '% is append-only', TG_TABLE_NAME;
END $$;
CREATE TRIGGER "Hold_append_only" BEFORE UPDATE OR DELETE ON "Hold"
  FOR EACH ROW EXECUTE FUNCTION refuse_but_lifting();
CREATE TRIGGER "Hold_never_emptied" BEFORE TRUNCATE ON "Hold"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
