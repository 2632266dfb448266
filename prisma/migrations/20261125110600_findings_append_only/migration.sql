-- What was found, and which photos a revision was submitted with, is kept like the revision itself.
CREATE TRIGGER "Finding_append_only" BEFORE UPDATE OR DELETE ON "Finding"
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "RevisionEvidence_append_only" BEFORE UPDATE OR DELETE ON "RevisionEvidence"
  FOR EACH ROW EXECUTE FUNCTION refuse_change();

-- A trigger for each row does not see a table emptied as a whole.
CREATE TRIGGER "AuditEntry_never_emptied" BEFORE TRUNCATE ON "AuditEntry"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "RunRevision_never_emptied" BEFORE TRUNCATE ON "RunRevision"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "Reading_never_emptied" BEFORE TRUNCATE ON "Reading"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "Conditions_never_emptied" BEFORE TRUNCATE ON "Conditions"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "Finding_never_emptied" BEFORE TRUNCATE ON "Finding"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "RevisionEvidence_never_emptied" BEFORE TRUNCATE ON "RevisionEvidence"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "Decision_never_emptied" BEFORE TRUNCATE ON "Decision"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "DecisionReason_never_emptied" BEFORE TRUNCATE ON "DecisionReason"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "Retraction_never_emptied" BEFORE TRUNCATE ON "Retraction"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
