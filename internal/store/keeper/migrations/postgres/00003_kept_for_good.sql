-- +goose Up
-- What was kept is never changed or deleted, not even by hand.
-- +goose StatementBegin
CREATE FUNCTION kept_for_good() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION 'kept for good: %', TG_TABLE_NAME;
END;
$$;
-- +goose StatementEnd
CREATE TRIGGER parts_for_good BEFORE UPDATE OR DELETE OR TRUNCATE ON parts FOR EACH STATEMENT EXECUTE FUNCTION kept_for_good();
CREATE TRIGGER revisions_for_good BEFORE UPDATE OR DELETE OR TRUNCATE ON revisions FOR EACH STATEMENT EXECUTE FUNCTION kept_for_good();
CREATE TRIGGER revision_parts_for_good BEFORE UPDATE OR DELETE OR TRUNCATE ON revision_parts FOR EACH STATEMENT EXECUTE FUNCTION kept_for_good();
CREATE TRIGGER records_for_good BEFORE UPDATE OR DELETE OR TRUNCATE ON records FOR EACH STATEMENT EXECUTE FUNCTION kept_for_good();
