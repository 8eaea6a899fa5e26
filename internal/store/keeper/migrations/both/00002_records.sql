-- +goose Up
ALTER TABLE projects ADD COLUMN last_record BIGINT NOT NULL DEFAULT 0;

CREATE TABLE records (
    project TEXT   NOT NULL REFERENCES projects (id),
    number  BIGINT NOT NULL,
    id      TEXT   NOT NULL, -- made by the client
    subject TEXT   NOT NULL,
    kind    TEXT   NOT NULL,
    author  TEXT   NOT NULL,
    time_ms BIGINT NOT NULL,
    body    BYTEA  NOT NULL,
    sha256  TEXT   NOT NULL, -- of all but the number
    PRIMARY KEY (project, number),
    UNIQUE (project, id)
);
