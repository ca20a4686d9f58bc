-- Records of runs: appended, never changed, each chained to the one before it at its bay.
-- Columns and the text behind record_hash: src/docs/record-format.md.
CREATE TABLE run_record (
    record_id       INTEGER PRIMARY KEY,
    run_id          TEXT    NOT NULL UNIQUE,
    bay_id          TEXT    NOT NULL,
    bay_sequence    INTEGER NOT NULL CHECK (bay_sequence >= 1),
    asset           TEXT    NOT NULL,
    started_wall    TEXT    NOT NULL,
    day             TEXT    NOT NULL,
    origin          TEXT    NOT NULL CHECK (origin IN ('bay', 'simulated')),
    method_version  INTEGER NOT NULL CHECK (method_version >= 1),
    program_version TEXT    NOT NULL,
    outcome         TEXT    NOT NULL,
    reason          TEXT    NOT NULL,
    accepted        INTEGER NOT NULL CHECK (accepted IN (0, 1)),
    trace_file      TEXT    NOT NULL,
    trace_sha256    TEXT    NOT NULL CHECK (length(trace_sha256) = 64),
    result_json     TEXT    NOT NULL,
    previous_hash   TEXT    NOT NULL CHECK (length(previous_hash) = 64),
    record_hash     TEXT    NOT NULL UNIQUE CHECK (length(record_hash) = 64),
    UNIQUE (bay_id, bay_sequence)
) STRICT;

CREATE INDEX run_record_asset ON run_record (asset, record_id);

CREATE TRIGGER run_record_is_never_changed BEFORE UPDATE ON run_record
BEGIN
    SELECT RAISE(ABORT, 'records are never changed; append a correction');
END;

CREATE TRIGGER run_record_is_never_deleted BEFORE DELETE ON run_record
BEGIN
    SELECT RAISE(ABORT, 'records are never deleted');
END;

-- Also keeps INSERT OR REPLACE from deleting, which need not fire the trigger above.
CREATE TRIGGER run_record_is_appended BEFORE INSERT ON run_record
WHEN NEW.bay_sequence <> 1 + coalesce((SELECT max(bay_sequence) FROM run_record WHERE bay_id = NEW.bay_id), 0)
    OR EXISTS (SELECT 1 FROM run_record WHERE run_id = NEW.run_id OR record_id = NEW.record_id
        OR record_hash = NEW.record_hash)
    OR NEW.previous_hash <> coalesce(
        (SELECT record_hash FROM run_record WHERE bay_id = NEW.bay_id AND bay_sequence = NEW.bay_sequence - 1),
        '0000000000000000000000000000000000000000000000000000000000000000')
BEGIN
    SELECT RAISE(ABORT, 'a record must follow the last one of its bay');
END;

PRAGMA user_version = 1;
