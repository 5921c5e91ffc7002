-- What tags, the scanning bench, a handheld's batches and counts of shelves need.

-- What a record's tag said when it was last printed: where that differs by now, a new one is due.
CREATE TABLE tag_printed (
	subject_kind TEXT NOT NULL,                       -- kind of the record
	subject INTEGER NOT NULL,                         -- its id
	stock TEXT NOT NULL,                              -- name of the stock that it was printed on
	symbol TEXT,                                      -- symbol asked for; NULL: the stock's own
	carrier INTEGER CHECK (carrier > 0),              -- diameter of what it goes around, nm; NULL: a flat place
	face TEXT NOT NULL,                               -- all that the tag said: its code and its lines, one a line
	printed INTEGER NOT NULL,                         -- moment
	entry INTEGER NOT NULL REFERENCES ledger (number), -- the last entry of the ledger by then
	PRIMARY KEY (subject_kind, subject)
) STRICT, WITHOUT ROWID;

-- Lines of batches that were applied, so that the same batch twice changes nothing.
CREATE TABLE batch_line (
	happened INTEGER NOT NULL,                        -- moment that stands on the line
	code TEXT NOT NULL,                               -- what was scanned: a tag as stored, else as it was read
	nth INTEGER NOT NULL CHECK (nth > 0),             -- which of the like lines of one batch
	entry INTEGER NOT NULL REFERENCES ledger (number), -- the last entry of the ledger that it made
	PRIMARY KEY (happened, code, nth)
) STRICT, WITHOUT ROWID;

-- A count of all that lies in a place and the places inside it. It may be left and taken up by another.
CREATE TABLE stock_count (
	id INTEGER PRIMARY KEY,                           -- number of the count
	place INTEGER NOT NULL REFERENCES place (id),     -- what is counted
	started INTEGER NOT NULL,                         -- moment
	operator INTEGER REFERENCES operator (id),        -- who began it; NULL: no badge
	login TEXT NOT NULL,                              -- the system's login name of who began it
	ended INTEGER,                                    -- moment; NULL: still open
	corrected INTEGER CHECK (corrected IN (0, 1)),    -- 1: the records were put right by it; NULL: still open
	CHECK ((ended IS NULL) = (corrected IS NULL))
) STRICT;
CREATE UNIQUE INDEX stock_count_open ON stock_count (place) WHERE ended IS NULL;

-- What a count has seen. What is scanned twice was last seen where it was scanned last.
CREATE TABLE stock_counted (
	stock_count INTEGER NOT NULL REFERENCES stock_count (id), -- the count
	code TEXT NOT NULL,                               -- a tool's tag as stored; of what is not known, what was read
	tool INTEGER REFERENCES tool (id),                -- NULL: not known
	place INTEGER NOT NULL REFERENCES place (id),     -- where it was seen: the place counted, or one inside it
	seen INTEGER NOT NULL,                            -- moment
	operator INTEGER REFERENCES operator (id),        -- who scanned it; NULL: no badge
	login TEXT NOT NULL,                              -- the system's login name of who scanned it
	PRIMARY KEY (stock_count, code)
) STRICT, WITHOUT ROWID;
