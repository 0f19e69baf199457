-- +goose Up

PRAGMA user_version = 3;

-- What each room's loads put on each circuit, so that sums over rooms read one
-- table and open no room. A file that comes from before has none until its
-- rooms are judged again.
CREATE TABLE room_circuits (
    project_id  TEXT NOT NULL REFERENCES projects (id),
    room_id     TEXT NOT NULL REFERENCES rooms (id),
    n           INTEGER NOT NULL,  -- their order in the room
    circuit     TEXT NOT NULL,     -- '' for loads that name none
    volts       DOUBLE PRECISION NOT NULL,  -- 0: not known
    loads       INTEGER NOT NULL,  -- lighting
    receptacles INTEGER NOT NULL,
    unknown     INTEGER NOT NULL,  -- lighting loads without watts or volts
    watts       DOUBLE PRECISION NOT NULL,
    amps        DOUBLE PRECISION NOT NULL,  -- of lighting: continuous
    rest        DOUBLE PRECISION NOT NULL,  -- A, of receptacle loads that state watts
    drivers     INTEGER NOT NULL,
    inrush      DOUBLE PRECISION NOT NULL,  -- A, sum of the peaks that are stated
    unstated    INTEGER NOT NULL,  -- lighting loads whose inrush is not stated
    PRIMARY KEY (room_id, n)
);
CREATE INDEX circuits_of_project ON room_circuits (project_id);
