-- Entries of the audit log are sealed in batches, and what is personal in them stands apart.

-- 244 bits of chance: two random UUIDs (RFC 9562, 5.4). Volatile, so that every account that is there gets its own.
CREATE FUNCTION new_audit_salt() RETURNS bytea LANGUAGE sql VOLATILE AS $$
  SELECT decode(replace(gen_random_uuid()::text || gen_random_uuid()::text, '-', ''), 'hex')
$$;
ALTER TABLE "Account" ADD COLUMN "auditSalt" BYTEA DEFAULT new_audit_salt();

-- The transaction gets its number before the entry gets its id. A snapshot that sees every transaction ended that had a
-- number when the sequence stood at an id therefore sees every entry up to that id that there will ever be.
CREATE FUNCTION next_audit_id() RETURNS bigint LANGUAGE plpgsql VOLATILE AS $$
BEGIN
  PERFORM pg_current_xact_id();
  RETURN nextval('"AuditEntry_id_seq"');
END $$;
ALTER TABLE "AuditEntry" ALTER COLUMN "id" SET DEFAULT next_audit_id();

-- Old entries have no time of writing: they are known by that.
ALTER TABLE "AuditEntry"
  ADD COLUMN "writtenAt" TIMESTAMPTZ(3),
  ADD COLUMN "personal" JSONB,
  ADD COLUMN "personalOf" UUID,
  ADD COLUMN "commitments" JSONB;
ALTER TABLE "AuditEntry" ALTER COLUMN "writtenAt" SET DEFAULT clock_timestamp();
ALTER TABLE "AuditEntry" ADD CONSTRAINT "AuditEntry_personal_is_committed" CHECK (
  ("personalOf" IS NULL) = ("commitments" IS NULL) AND ("personal" IS NULL OR "commitments" IS NOT NULL));

DROP INDEX "AuditEntry_actorId_idx";
CREATE INDEX "AuditEntry_actorId_id_idx" ON "AuditEntry"("actorId", "id");

-- Nothing of an entry changes, but for its personal part, which goes with the salt of the account that it is of.
CREATE FUNCTION keep_audit_entry() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'UPDATE' THEN
    IF NEW."personal" IS NULL
      AND to_jsonb(NEW) - 'personal' = to_jsonb(OLD) - 'personal'
      AND NOT EXISTS (SELECT 1 FROM "Account" WHERE "id" = OLD."personalOf" AND "auditSalt" IS NOT NULL)
    THEN
      RETURN NEW;
    END IF;
  END IF;
  RAISE EXCEPTION '% is append-only', TG_TABLE_NAME;
END $$;
DROP TRIGGER "AuditEntry_append_only" ON "AuditEntry";
CREATE TRIGGER "AuditEntry_append_only" BEFORE UPDATE OR DELETE ON "AuditEntry"
  FOR EACH ROW EXECUTE FUNCTION keep_audit_entry();

CREATE TABLE "AuditSeal" (
    "number" INTEGER NOT NULL,
    "fromId" BIGINT NOT NULL,
    "toId" BIGINT NOT NULL,
    "entries" INTEGER NOT NULL,
    "sealedAt" TIMESTAMPTZ(3) NOT NULL,
    "previousHash" TEXT NOT NULL,
    "marks" BYTEA NOT NULL,
    "hash" TEXT NOT NULL,
    "keyId" TEXT NOT NULL,
    "signature" TEXT NOT NULL,

    CONSTRAINT "AuditSeal_pkey" PRIMARY KEY ("number")
);
ALTER TABLE "AuditSeal" ADD CONSTRAINT "AuditSeal_marks_every_entry"
  CHECK ("number" >= 0 AND "fromId" <= "toId" AND octet_length("marks") = 40 * "entries");
CREATE TRIGGER "AuditSeal_append_only" BEFORE UPDATE OR DELETE ON "AuditSeal"
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "AuditSeal_never_emptied" BEFORE TRUNCATE ON "AuditSeal"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE TABLE "AuditRepeat" (
    "key" TEXT NOT NULL,
    "since" TIMESTAMPTZ(3) NOT NULL,
    "times" INTEGER NOT NULL DEFAULT 0,
    "actorId" UUID,
    "action" TEXT NOT NULL,
    "subjectKind" TEXT NOT NULL,
    "subjectId" TEXT NOT NULL,
    "details" JSONB NOT NULL DEFAULT '{}',

    CONSTRAINT "AuditRepeat_pkey" PRIMARY KEY ("key")
);
CREATE INDEX "AuditRepeat_since_idx" ON "AuditRepeat"("since");
