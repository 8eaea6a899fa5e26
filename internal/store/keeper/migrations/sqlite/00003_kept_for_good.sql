-- +goose Up
-- What was kept is never changed or deleted, not even by hand.
-- +goose StatementBegin
CREATE TRIGGER parts_no_update BEFORE UPDATE ON parts
BEGIN
    SELECT RAISE(ABORT, 'kept for good: parts');
END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER parts_no_delete BEFORE DELETE ON parts
BEGIN
    SELECT RAISE(ABORT, 'kept for good: parts');
END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER revisions_no_update BEFORE UPDATE ON revisions
BEGIN
    SELECT RAISE(ABORT, 'kept for good: revisions');
END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER revisions_no_delete BEFORE DELETE ON revisions
BEGIN
    SELECT RAISE(ABORT, 'kept for good: revisions');
END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER revision_parts_no_update BEFORE UPDATE ON revision_parts
BEGIN
    SELECT RAISE(ABORT, 'kept for good: revision_parts');
END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER revision_parts_no_delete BEFORE DELETE ON revision_parts
BEGIN
    SELECT RAISE(ABORT, 'kept for good: revision_parts');
END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER records_no_update BEFORE UPDATE ON records
BEGIN
    SELECT RAISE(ABORT, 'kept for good: records');
END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER records_no_delete BEFORE DELETE ON records
BEGIN
    SELECT RAISE(ABORT, 'kept for good: records');
END;
-- +goose StatementEnd
