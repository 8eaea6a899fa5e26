-- +goose Up
CREATE TABLE projects (
    id            TEXT   NOT NULL PRIMARY KEY,
    name          TEXT   NOT NULL,
    created_ms    BIGINT NOT NULL,
    last_revision BIGINT NOT NULL DEFAULT 0 -- also the lock that puts the savers of a project in a row
);

CREATE TABLE parts (
    sha256 TEXT   NOT NULL PRIMARY KEY, -- of the content
    size   BIGINT NOT NULL,             -- of the content, bytes
    coding TEXT   NOT NULL,             -- raw or deflate
    data   BYTEA  NOT NULL
);

CREATE TABLE revisions (
    id      TEXT   NOT NULL PRIMARY KEY, -- SHA-256 of all but the number
    project TEXT   NOT NULL REFERENCES projects (id),
    number  BIGINT NOT NULL,
    parent  TEXT   REFERENCES revisions (id),
    merged  TEXT   REFERENCES revisions (id),
    author  TEXT   NOT NULL,
    time_ms BIGINT NOT NULL,
    note    TEXT   NOT NULL,
    UNIQUE (project, number)
);

CREATE TABLE revision_parts (
    revision TEXT NOT NULL REFERENCES revisions (id),
    name     TEXT NOT NULL,
    sha256   TEXT NOT NULL REFERENCES parts (sha256),
    PRIMARY KEY (revision, name)
);

CREATE TABLE heads (
    project  TEXT NOT NULL REFERENCES projects (id),
    name     TEXT NOT NULL,
    revision TEXT NOT NULL REFERENCES revisions (id),
    PRIMARY KEY (project, name)
);
