-- What finding by words, asking the past and taking back need.

-- Words of every record that has a tag: names, notes, numbers. A row's number is that of the record times eight, plus
-- what it is: 0 a tool, 1 a place, 2 a press, 3 a job, 4 an operator. Kept by the triggers below; the words themselves
-- are not kept here a second time.
CREATE VIRTUAL TABLE search USING fts5 (
	words, -- as the views below give them
	content = '', columnsize = 0, tokenize = "unicode61 remove_diacritics 2"
);

CREATE VIEW tool_words AS SELECT t.id * 8 AS row, t.id, t.tag || ' ' || COALESCE(t.maker_serial, '') || ' '
	|| COALESCE(o.code, '') || ' ' || COALESCE(t.name, '') || ' ' || COALESCE(t.note, '') || ' '
	|| COALESCE(t.condition_reason, '') AS words FROM tool t LEFT JOIN other_tag o ON o.tool = t.id;
CREATE VIEW place_words AS SELECT id * 8 + 1 AS row, id, tag || ' ' || code || ' ' || COALESCE(name, '') || ' '
	|| COALESCE(note, '') || ' ' || COALESCE(condition_reason, '') AS words FROM place;
CREATE VIEW press_words AS SELECT id * 8 + 2 AS row, id, tag || ' ' || code || ' ' || COALESCE(name, '') AS words FROM press;
CREATE VIEW job_words AS SELECT id * 8 + 3 AS row, id, tag || ' ' || number || ' ' || COALESCE(title, '') AS words FROM job;
CREATE VIEW operator_words AS SELECT id * 8 + 4 AS row, id, tag || ' ' || badge || ' ' || name AS words FROM operator;

CREATE TRIGGER tool_words_new AFTER INSERT ON tool
BEGIN INSERT INTO search (rowid, words) SELECT row, words FROM tool_words WHERE id = NEW.id; END;
CREATE TRIGGER tool_words_before BEFORE UPDATE OF maker_serial, name, note, condition_reason ON tool
BEGIN INSERT INTO search (search, rowid, words) SELECT 'delete', row, words FROM tool_words WHERE id = OLD.id; END;
CREATE TRIGGER tool_words_after AFTER UPDATE OF maker_serial, name, note, condition_reason ON tool
BEGIN INSERT INTO search (rowid, words) SELECT row, words FROM tool_words WHERE id = NEW.id; END;

-- The number that the shop already had is kept in a table of its own.
CREATE TRIGGER other_tag_before BEFORE INSERT ON other_tag
BEGIN INSERT INTO search (search, rowid, words) SELECT 'delete', row, words FROM tool_words WHERE id = NEW.tool; END;
CREATE TRIGGER other_tag_after AFTER INSERT ON other_tag
BEGIN INSERT INTO search (rowid, words) SELECT row, words FROM tool_words WHERE id = NEW.tool; END;
CREATE TRIGGER other_tag_gone_before BEFORE DELETE ON other_tag
BEGIN INSERT INTO search (search, rowid, words) SELECT 'delete', row, words FROM tool_words WHERE id = OLD.tool; END;
CREATE TRIGGER other_tag_gone_after AFTER DELETE ON other_tag
BEGIN INSERT INTO search (rowid, words) SELECT row, words FROM tool_words WHERE id = OLD.tool; END;

CREATE TRIGGER place_words_new AFTER INSERT ON place
BEGIN INSERT INTO search (rowid, words) SELECT row, words FROM place_words WHERE id = NEW.id; END;
CREATE TRIGGER place_words_before BEFORE UPDATE OF code, name, note, condition_reason ON place
BEGIN INSERT INTO search (search, rowid, words) SELECT 'delete', row, words FROM place_words WHERE id = OLD.id; END;
CREATE TRIGGER place_words_after AFTER UPDATE OF code, name, note, condition_reason ON place
BEGIN INSERT INTO search (rowid, words) SELECT row, words FROM place_words WHERE id = NEW.id; END;

CREATE TRIGGER press_words_new AFTER INSERT ON press
BEGIN INSERT INTO search (rowid, words) SELECT row, words FROM press_words WHERE id = NEW.id; END;
CREATE TRIGGER press_words_before BEFORE UPDATE OF code, name ON press
BEGIN INSERT INTO search (search, rowid, words) SELECT 'delete', row, words FROM press_words WHERE id = OLD.id; END;
CREATE TRIGGER press_words_after AFTER UPDATE OF code, name ON press
BEGIN INSERT INTO search (rowid, words) SELECT row, words FROM press_words WHERE id = NEW.id; END;

CREATE TRIGGER job_words_new AFTER INSERT ON job
BEGIN INSERT INTO search (rowid, words) SELECT row, words FROM job_words WHERE id = NEW.id; END;
CREATE TRIGGER job_words_before BEFORE UPDATE OF number, title ON job
BEGIN INSERT INTO search (search, rowid, words) SELECT 'delete', row, words FROM job_words WHERE id = OLD.id; END;
CREATE TRIGGER job_words_after AFTER UPDATE OF number, title ON job
BEGIN INSERT INTO search (rowid, words) SELECT row, words FROM job_words WHERE id = NEW.id; END;

CREATE TRIGGER operator_words_new AFTER INSERT ON operator
BEGIN INSERT INTO search (rowid, words) SELECT row, words FROM operator_words WHERE id = NEW.id; END;
CREATE TRIGGER operator_words_before BEFORE UPDATE OF badge, name ON operator
BEGIN INSERT INTO search (search, rowid, words) SELECT 'delete', row, words FROM operator_words WHERE id = OLD.id; END;
CREATE TRIGGER operator_words_after AFTER UPDATE OF badge, name ON operator
BEGIN INSERT INTO search (rowid, words) SELECT row, words FROM operator_words WHERE id = NEW.id; END;

INSERT INTO search (rowid, words) SELECT row, words FROM tool_words;
INSERT INTO search (rowid, words) SELECT row, words FROM place_words;
INSERT INTO search (rowid, words) SELECT row, words FROM press_words;
INSERT INTO search (rowid, words) SELECT row, words FROM job_words;
INSERT INTO search (rowid, words) SELECT row, words FROM operator_words;

-- Where a tool was at a moment: the entries that tell of its whereabouts, read from the index alone.
CREATE INDEX ledger_whereabouts ON ledger (subject, happened, number, to_place) WHERE to_place IS NOT NULL OR from_place IS NOT NULL;
-- What happened to a job's stations and cuts, removed ones too, and for the job.
CREATE INDEX ledger_of_job ON ledger (job, happened, number) WHERE job IS NOT NULL;
-- What somebody did last at a terminal.
CREATE INDEX ledger_by_whom ON ledger (terminal, login, operator);

-- What an operator did last.
CREATE INDEX ledger_of_operator ON ledger (operator, number) WHERE operator IS NOT NULL;
-- What lies in a place, by kind, counted from the index alone.
DROP INDEX tool_place;
CREATE INDEX tool_place_kind ON tool (place, kind);

-- What stood on record before an entry and cannot be told from the entry itself, so that it can be taken back.
CREATE TABLE entry_before (
	entry INTEGER NOT NULL REFERENCES ledger (number), -- the entry that changed it
	attribute TEXT NOT NULL, -- of the record; or back, taken_for, condition_reason, condition_since
	value TEXT,              -- as it stood: as typed, ids and moments as kept; NULL: not known
	PRIMARY KEY (entry, attribute)
) STRICT, WITHOUT ROWID;

-- Entries that were taken back, each by a new one.
CREATE TABLE taken_back (
	entry INTEGER PRIMARY KEY REFERENCES ledger (number),       -- the entry taken back
	by_entry INTEGER NOT NULL UNIQUE REFERENCES ledger (number) -- the entry that did it
) STRICT;

-- With what was read last of a roll, so that of many rolls of a screen only those of a volume are looked at.
CREATE TABLE anilox_read (
	tool INTEGER PRIMARY KEY REFERENCES tool (id),         -- the tool that this is
	line_screen REAL CHECK (line_screen > 0),              -- lines per cm
	volume INTEGER CHECK (volume > 0),                     -- when new
	angle INTEGER,                                         -- of the engraving, 1e-6 degrees
	diameter INTEGER CHECK (diameter > 0),                 -- nm
	surface TEXT CHECK (surface IN ('ceramic', 'chrome')), -- what it is engraved in
	engraved TEXT,                                         -- date
	read_volume INTEGER                                    -- by the latest reading after cleaning of the life that runs,
	                                                       -- before the engraving too; the triggers keep it
) STRICT;
INSERT INTO anilox_read SELECT tool, line_screen, volume, angle, diameter, surface, engraved, NULL FROM anilox;
DROP TABLE anilox;
ALTER TABLE anilox_read RENAME TO anilox;
CREATE INDEX anilox_line_screen ON anilox (line_screen, volume, read_volume);
DROP INDEX reading_of_tool;
CREATE INDEX reading_of_tool ON reading (tool, life, after, moment, id, volume);

CREATE VIEW volume_read AS SELECT t.id AS tool, (SELECT r.volume FROM reading r WHERE r.tool = t.id AND r.life = t.life
	AND r.after = 'clean' ORDER BY r.moment DESC, r.id DESC LIMIT 1) AS volume FROM tool t;
CREATE TRIGGER volume_read_new AFTER INSERT ON reading WHEN NEW.after = 'clean'
BEGIN UPDATE anilox SET read_volume = (SELECT volume FROM volume_read WHERE tool = NEW.tool) WHERE tool = NEW.tool; END;
CREATE TRIGGER volume_read_changed AFTER UPDATE ON reading
BEGIN UPDATE anilox SET read_volume = (SELECT v.volume FROM volume_read v WHERE v.tool = anilox.tool)
	WHERE tool IN (OLD.tool, NEW.tool); END;
CREATE TRIGGER volume_read_gone AFTER DELETE ON reading
BEGIN UPDATE anilox SET read_volume = (SELECT volume FROM volume_read WHERE tool = OLD.tool) WHERE tool = OLD.tool; END;
CREATE TRIGGER volume_read_anew AFTER UPDATE OF life ON tool
BEGIN UPDATE anilox SET read_volume = (SELECT volume FROM volume_read WHERE tool = NEW.id) WHERE tool = NEW.id; END;
UPDATE anilox SET read_volume = (SELECT v.volume FROM volume_read v WHERE v.tool = anilox.tool);
