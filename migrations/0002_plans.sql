-- +goose Up

PRAGMA user_version = 2;

-- The drawing of a storey, beside its rooms: their outlines are their own.
CREATE TABLE plans (
    id         TEXT PRIMARY KEY,  -- of the storey
    project_id TEXT NOT NULL REFERENCES projects (id),
    revision   BIGINT NOT NULL,
    doc        TEXT NOT NULL
);
CREATE INDEX plans_of_project ON plans (project_id);

-- Pictures beneath plans, by what they hold. No reference to projects: those
-- that an issued revision shows outlive the project.
CREATE TABLE pictures (
    project_id TEXT NOT NULL,
    sha256     TEXT NOT NULL,
    media      TEXT NOT NULL,
    width      INTEGER NOT NULL,  -- pixels
    height     INTEGER NOT NULL,
    data       BLOB NOT NULL,
    PRIMARY KEY (project_id, sha256)
);
