package record

// ledgerFrom is the first schema that has the ledger of sheets, spares and
// unnumbered marks.
const ledgerFrom = 5

// ledgerTables is that step. What became of a sheet is a list that only grows:
// its present state is what the list comes to. Whether a spare or a count of
// marks holds follows from the state of its print and is written nowhere twice.
const ledgerTables = `
CREATE TABLE sheets (
	number INTEGER PRIMARY KEY,
	stock  TEXT NOT NULL,
	feed   TEXT NOT NULL CHECK (feed IN ('top', 'right', 'bottom', 'left')),
	made   TEXT NOT NULL
) STRICT;
CREATE INDEX sheets_stock ON sheets (stock);
CREATE TABLE sheet_events (
	sheet   INTEGER NOT NULL REFERENCES sheets (number),
	version INTEGER NOT NULL,
	what    TEXT NOT NULL CHECK (what IN ('printed', 'cancelled', 'taken', 'freed', 'open', 'used up', 'written off')),
	print   INTEGER REFERENCES prints (seq),
	data    TEXT NOT NULL,
	note    TEXT NOT NULL,
	at      TEXT NOT NULL,
	PRIMARY KEY (sheet, version)
) STRICT;
CREATE INDEX sheet_events_print ON sheet_events (print);
CREATE TABLE float_figures (
	float   INTEGER NOT NULL REFERENCES floats (seq),
	print   INTEGER NOT NULL REFERENCES prints (seq),
	figures TEXT NOT NULL,
	PRIMARY KEY (float, print)
) STRICT;
CREATE TABLE spares (
	seq     INTEGER PRIMARY KEY,
	id      TEXT NOT NULL UNIQUE,
	batch   TEXT NOT NULL,
	number  INTEGER NOT NULL,
	attempt INTEGER NOT NULL,
	UNIQUE (batch, number)
) STRICT;
CREATE TABLE spare_prints (
	spare   INTEGER NOT NULL REFERENCES spares (seq),
	print   INTEGER NOT NULL REFERENCES prints (seq),
	pattern TEXT NOT NULL,
	figures TEXT NOT NULL,
	data    TEXT NOT NULL,
	PRIMARY KEY (spare, print)
) STRICT;
CREATE TABLE spare_claims (
	spare INTEGER PRIMARY KEY REFERENCES spares (seq),
	float INTEGER NOT NULL REFERENCES floats (seq),
	at    TEXT NOT NULL
) STRICT;
CREATE TABLE mark_moves (
	seq     INTEGER PRIMARY KEY,
	stock   TEXT NOT NULL,
	pattern TEXT NOT NULL,
	figures TEXT NOT NULL,
	change  INTEGER NOT NULL,
	print   INTEGER REFERENCES prints (seq),
	note    TEXT NOT NULL,
	at      TEXT NOT NULL
) STRICT;
CREATE INDEX mark_moves_kind ON mark_moves (stock, pattern, figures);
`
