-- +goose Up

-- Marks the file as ours ("SCOP") and its version; both stand in the file's
-- header and are read before anything is opened.
PRAGMA application_id = 1396920144;
PRAGMA user_version = 1;

CREATE TABLE projects (
    id         TEXT PRIMARY KEY,
    name       TEXT NOT NULL,
    number     TEXT NOT NULL,
    revision   BIGINT NOT NULL,
    created_at TEXT NOT NULL,
    updated_at TEXT NOT NULL,
    doc        TEXT NOT NULL
);

CREATE TABLE typicals (
    id         TEXT PRIMARY KEY,
    project_id TEXT NOT NULL REFERENCES projects (id),
    seq        BIGINT NOT NULL,
    name       TEXT NOT NULL,
    revision   BIGINT NOT NULL,
    doc        TEXT NOT NULL
);
CREATE INDEX typicals_of_project ON typicals (project_id, seq, id);

-- What lists and filters need of a room. The document stands apart, so that a
-- list of ten thousand rooms reads hundreds of pages and not ten thousand.
CREATE TABLE rooms (
    id          TEXT PRIMARY KEY,
    project_id  TEXT NOT NULL REFERENCES projects (id),
    storey_id   TEXT NOT NULL,
    typical_id  TEXT NOT NULL,  -- '' for a design of its own
    number      TEXT NOT NULL,
    sort_key    TEXT NOT NULL,  -- the number in natural order: 2, 10, 101, 101A
    name        TEXT NOT NULL,
    search      TEXT NOT NULL,  -- number and name in small letters
    use         TEXT NOT NULL,
    area        DOUBLE PRECISION NOT NULL,  -- m2
    revision    BIGINT NOT NULL,
    controlled  INTEGER NOT NULL,
    devices     INTEGER NOT NULL,
    gateways    INTEGER NOT NULL,
    loads       INTEGER NOT NULL,
    watts       DOUBLE PRECISION NOT NULL,
    errors      INTEGER NOT NULL,
    warnings    INTEGER NOT NULL,
    infos       INTEGER NOT NULL,
    waived      INTEGER NOT NULL,
    exceptions  INTEGER NOT NULL,
    found       TEXT NOT NULL,  -- IDs of the rules that found something, a space around each
    objections  INTEGER NOT NULL,
    signed_hash TEXT NOT NULL,  -- of the newest sign-off that was not withdrawn
    signed_at   TEXT NOT NULL,
    stale       INTEGER NOT NULL  -- signed, and what was signed has changed
);
CREATE INDEX rooms_in_order ON rooms (project_id, storey_id, sort_key, id);
CREATE INDEX rooms_by_number ON rooms (project_id, sort_key, id);
CREATE INDEX rooms_of_typical ON rooms (typical_id);

CREATE TABLE room_docs (
    room_id TEXT PRIMARY KEY REFERENCES rooms (id),
    doc     TEXT NOT NULL
);

-- The last revision of what was removed: should it come back, by undo or by
-- import, its revision goes on from there, so that no revision of one subject
-- ever stands for two contents.
CREATE TABLE removed (
    subject  TEXT PRIMARY KEY,
    revision BIGINT NOT NULL
);

-- By which rules the numbers in rooms were last worked out.
CREATE TABLE judged (
    only_row INTEGER PRIMARY KEY CHECK (only_row = 1),
    by_rules TEXT NOT NULL
);

CREATE TABLE journal (
    id         INTEGER PRIMARY KEY,
    project_id TEXT NOT NULL REFERENCES projects (id),
    at         TEXT NOT NULL,
    who        TEXT NOT NULL,
    said       TEXT NOT NULL,
    state      TEXT NOT NULL CHECK (state IN ('done', 'undone', 'dropped', 'note')),
    changes    TEXT NOT NULL,
    undone_at  TEXT NOT NULL DEFAULT '',
    undone_by  TEXT NOT NULL DEFAULT ''
);
CREATE INDEX journal_of_project ON journal (project_id, id);
CREATE INDEX journal_undone ON journal (project_id) WHERE state = 'undone';

-- Every edit writes here, so it is one tree and has no second index.
CREATE TABLE journal_touches (
    subject    TEXT NOT NULL,
    journal_id INTEGER NOT NULL,
    PRIMARY KEY (subject, journal_id)
) WITHOUT ROWID;

CREATE TABLE reviews (
    seq        INTEGER PRIMARY KEY AUTOINCREMENT,  -- the order in which they were made
    id         TEXT NOT NULL UNIQUE,
    project_id TEXT NOT NULL REFERENCES projects (id),
    room_id    TEXT NOT NULL,  -- '' for the project
    item_id    TEXT NOT NULL,
    at         TEXT NOT NULL,
    name       TEXT NOT NULL,
    verdict    TEXT NOT NULL,
    comment    TEXT NOT NULL,
    answer     TEXT NOT NULL
);
CREATE INDEX reviews_of_room ON reviews (project_id, room_id, seq);

CREATE TABLE sign_offs (
    seq        INTEGER PRIMARY KEY AUTOINCREMENT,  -- the order in which they were made
    id         TEXT NOT NULL UNIQUE,
    project_id TEXT NOT NULL REFERENCES projects (id),
    room_id    TEXT NOT NULL,
    name       TEXT NOT NULL,
    role       TEXT NOT NULL,
    at         TEXT NOT NULL,
    hash       TEXT NOT NULL,
    comment    TEXT NOT NULL,
    withdrawn  TEXT NOT NULL
);
CREATE INDEX sign_offs_of_room ON sign_offs (project_id, room_id, seq);

-- Issued revisions outlive even their project: what was issued stays provable.
CREATE TABLE revisions (
    project_id TEXT NOT NULL,
    number     INTEGER NOT NULL,
    at         TEXT NOT NULL,
    author     TEXT NOT NULL,
    purpose    TEXT NOT NULL,
    note       TEXT NOT NULL,
    sha256     TEXT NOT NULL,  -- of the body before it was compressed
    changes    TEXT NOT NULL,  -- against the revision before
    body       BLOB NOT NULL,  -- gzip of the JSON of the scope
    PRIMARY KEY (project_id, number)
);

-- +goose StatementBegin
CREATE TRIGGER revisions_stay BEFORE UPDATE ON revisions
BEGIN
    SELECT RAISE(ABORT, 'an issued revision cannot be changed');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER revisions_remain BEFORE DELETE ON revisions
BEGIN
    SELECT RAISE(ABORT, 'an issued revision cannot be removed');
END;
-- +goose StatementEnd

-- REPLACE removes a row without asking the trigger above.
-- +goose StatementBegin
CREATE TRIGGER revisions_are_new BEFORE INSERT ON revisions
WHEN EXISTS (SELECT 1 FROM revisions WHERE project_id = NEW.project_id AND number = NEW.number)
BEGIN
    SELECT RAISE(ABORT, 'an issued revision cannot be replaced');
END;
-- +goose StatementEnd
