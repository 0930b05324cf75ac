package record

// changesFrom is the first schema that has build records, photographs and the
// search.
const changesFrom = 7

// changeTables is that step. Changes only grow; what stands now (states) follows
// from them and is kept beside them in the same commit. The search is kept up
// late: triggers note which texts are out of date, and who searches renews them
// first, since what a text holds is known above this package.
const changeTables = `
CREATE TABLE change_sets (
	seq    INTEGER PRIMARY KEY,
	at     TEXT NOT NULL,
	by     TEXT NOT NULL,
	key    TEXT UNIQUE,
	digest TEXT NOT NULL
) STRICT;
CREATE TABLE changes (
	seq    INTEGER PRIMARY KEY,
	"set"  INTEGER NOT NULL REFERENCES change_sets (seq),
	kind   TEXT NOT NULL,
	key    TEXT NOT NULL,
	path   TEXT NOT NULL,
	before TEXT NOT NULL,
	after  TEXT NOT NULL
) STRICT;
CREATE INDEX changes_subject ON changes (kind, key, path);
CREATE INDEX changes_set ON changes ("set");
CREATE TABLE states (
	kind   TEXT NOT NULL,
	key    TEXT NOT NULL,
	path   TEXT NOT NULL,
	value  TEXT NOT NULL,
	change INTEGER NOT NULL REFERENCES changes (seq),
	PRIMARY KEY (kind, key, path)
) STRICT, WITHOUT ROWID;
CREATE TABLE photos (
	seq    INTEGER PRIMARY KEY,
	sha256 TEXT NOT NULL UNIQUE,
	width  INTEGER NOT NULL,
	height INTEGER NOT NULL,
	at     TEXT NOT NULL,
	jpeg   BLOB NOT NULL
) STRICT;
CREATE TABLE search_docs (
	seq  INTEGER PRIMARY KEY,
	kind TEXT NOT NULL,
	key  TEXT NOT NULL,
	UNIQUE (kind, key)
) STRICT;
CREATE TABLE search_stale (
	kind TEXT NOT NULL,
	key  TEXT NOT NULL,
	mark INTEGER NOT NULL,
	PRIMARY KEY (kind, key)
) STRICT, WITHOUT ROWID;
CREATE VIRTUAL TABLE search_text USING fts5 (text, content = '', contentless_delete = 1, detail = 'none',
	prefix = '1 2 3', tokenize = "unicode61 remove_diacritics 2 tokenchars '.'");
INSERT INTO search_stale (kind, key, mark) SELECT 'float', id, 1 FROM floats;
CREATE TRIGGER search_after_version AFTER INSERT ON float_versions BEGIN
	INSERT INTO search_stale (kind, key, mark) SELECT 'float', id, 1 FROM floats WHERE seq = NEW.float
	ON CONFLICT DO UPDATE SET mark = mark + 1;
END;
CREATE TRIGGER search_after_claim AFTER INSERT ON spare_claims BEGIN
	INSERT INTO search_stale (kind, key, mark) SELECT 'float', id, 1 FROM floats WHERE seq = NEW.float
	ON CONFLICT DO UPDATE SET mark = mark + 1;
END;
CREATE TRIGGER search_after_change AFTER INSERT ON changes BEGIN
	INSERT INTO search_stale (kind, key, mark) VALUES (NEW.kind, NEW.key, 1)
	ON CONFLICT DO UPDATE SET mark = mark + 1;
END;
`
