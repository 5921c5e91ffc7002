-- What wear and care need: web run by tools, diameters gauged, the trend of each roll.

-- Web that a roll had run when it was read, as told by who read it. NULL: what the runs of jobs tell.
-- A reading that was taken back has life 0: it is of no life, and counts nowhere.
ALTER TABLE reading ADD COLUMN run INTEGER CHECK (run >= 0) /* web of the life by then, nm; NULL: what the record tells */;
ALTER TABLE reading ADD COLUMN run_then INTEGER /* web of the life on record at that moment, as it stood when this was put on record, nm; NULL: not known then */;
DROP INDEX reading_of_tool;
CREATE INDEX reading_of_tool ON reading (tool, life, after, moment, id, volume, method, run, run_then);
-- The latest that was read across the face, however many were not.
CREATE INDEX reading_across ON reading (tool, life, moment) WHERE after = 'clean' AND left_volume IS NOT NULL;

-- A device's list of readings may name its rolls by their makers' numbers.
CREATE INDEX tool_maker_serial ON tool (maker_serial) WHERE maker_serial IS NOT NULL;

-- Web that a tool has run, one a tool and run of a job. The sum of a life, with what was on record before, is the tool's run.
CREATE TABLE web_run (
	id INTEGER PRIMARY KEY,                            -- number of the record
	tool INTEGER NOT NULL REFERENCES tool (id),        -- what ran
	life INTEGER NOT NULL,                             -- of the tool by then
	job_run INTEGER REFERENCES job_run (id),           -- the run that it ran in; NULL: on a press not known, of the job that the entry is on
	length INTEGER NOT NULL CHECK (length > 0),        -- web, nm
	moment INTEGER NOT NULL,                           -- when the run ended
	entry INTEGER NOT NULL REFERENCES ledger (number), -- the entry that finished it
	run_known INTEGER NOT NULL DEFAULT 1 CHECK (run_known IN (0, 1)), -- 0: what the tool had run before was not on record
	UNIQUE (tool, entry)
) STRICT;
CREATE INDEX web_run_of_tool ON web_run (tool, life, moment, length, run_known);
CREATE INDEX web_run_not_known ON web_run (tool, life) WHERE run_known = 0;
CREATE INDEX web_run_of_entry ON web_run (entry);

-- Web that a run took, as it was finished, and how that is known.
ALTER TABLE job_run ADD COLUMN length INTEGER CHECK (length >= 0) /* web that it took, nm; NULL: not known */;
ALTER TABLE job_run ADD COLUMN length_by TEXT CHECK (length_by IN ('given', 'quantity')) /* how that is known */;

-- Web that a tool had run by then: of care that begins a life, what the life before had run. NULL: not known.
ALTER TABLE care ADD COLUMN run INTEGER CHECK (run >= 0) /* web that the tool had run by then, nm */;
-- Of a new blade: what the blade before was of.
ALTER TABLE care ADD COLUMN material TEXT CHECK (material IN ('steel', 'coated', 'polymer')) /* of the blade taken out */;
CREATE INDEX care_material ON care (material, run) WHERE material IS NOT NULL;

-- Diameters and runouts gauged, oldest first by moment; the latest stand in cylinder too.
CREATE TABLE gauge (
	id INTEGER PRIMARY KEY,                            -- number of the record
	tool INTEGER NOT NULL REFERENCES tool (id),        -- what was gauged
	life INTEGER NOT NULL,                             -- of the tool by then
	moment INTEGER NOT NULL,                           -- when
	diameter INTEGER CHECK (diameter > 0),             -- nm
	runout INTEGER CHECK (runout >= 0),                -- nm
	run INTEGER,                                       -- web it had run by then, nm; NULL: not known
	CHECK (diameter IS NOT NULL OR runout IS NOT NULL)
) STRICT;
CREATE INDEX gauge_of_tool ON gauge (tool, life, moment);

-- When something was done to a tool last, and damage of its face: both by tool and sort.
CREATE INDEX care_what ON care (tool, what, moment);

-- The trend of a roll's volume in the life that runs: worked out anew whenever a reading comes in, and kept.
CREATE TABLE wear (
	tool INTEGER PRIMARY KEY REFERENCES tool (id),     -- the roll
	life INTEGER NOT NULL,                             -- that it is about
	method TEXT CHECK (method IN ('surface', 'drawdown')), -- of the readings in it; NULL: not on record
	says TEXT NOT NULL CHECK (says IN ('too_few', 'none', 'falls', 'rises')), -- what they tell
	readings INTEGER NOT NULL,                         -- readings in it: after cleaning, by that method, at a known run
	run_not_known INTEGER NOT NULL,                    -- readings left out because the run is not known
	other_method INTEGER NOT NULL,                     -- readings left out because they are by another method
	slope REAL NOT NULL,                               -- cm3/m2 a million metres
	slope_least REAL NOT NULL,                         -- of Sen's interval at 90 %
	slope_most REAL NOT NULL,                          -- of Sen's interval at 90 %
	at_zero REAL NOT NULL,                             -- the line at run 0, cm3/m2
	mean_run REAL NOT NULL,                            -- millions of metres
	squares REAL NOT NULL,                             -- of the runs about their mean
	own_share REAL NOT NULL,                           -- scatter of these readings, as a share of the volume
	own_freedom REAL NOT NULL,                         -- degrees of freedom behind it
	used_share REAL NOT NULL,                          -- scatter that the range of the forecast counts by
	used_freedom REAL NOT NULL,                        -- degrees of freedom behind that
	kendall_s INTEGER NOT NULL,                        -- Kendall's S
	tau REAL NOT NULL,                                 -- Kendall's tau-b
	p REAL NOT NULL,                                   -- of no trend, two-sided
	fits INTEGER NOT NULL CHECK (fits IN (0, 1)),      -- 0: the latest reading lies further from the line than trend_match
	run_read INTEGER NOT NULL,                         -- what the roll has run: as on record, but no less than when it was read, nm
	clean_moment INTEGER,                              -- of the latest reading after cleaning, by whatever method
	clean_volume INTEGER,                              -- that reading, 1e-6 cm3/m2
	uneven INTEGER,                                    -- left, centre, right of the latest one read across: 1e-6 of their mean
	gave_back INTEGER,                                 -- what the last cleaning gave back, 1e-6 cm3/m2; NULL: not read before and after
	gave_back_moment INTEGER,                          -- of the reading after that cleaning
	worked_out INTEGER NOT NULL                        -- the ledger's last entry by then: the latest is the highest
) STRICT;
CREATE INDEX wear_scatter ON wear (method, worked_out DESC, own_share, own_freedom) WHERE own_freedom >= 1;

-- Rolls whose trend is to be worked out anew before the change under way is committed: empty in between.
CREATE TABLE wear_stale (
	tool INTEGER PRIMARY KEY REFERENCES tool (id)      -- the roll
) STRICT;
CREATE TRIGGER wear_reading_new AFTER INSERT ON reading
BEGIN INSERT OR IGNORE INTO wear_stale VALUES (NEW.tool); END;
CREATE TRIGGER wear_reading_changed AFTER UPDATE ON reading
BEGIN INSERT OR IGNORE INTO wear_stale VALUES (OLD.tool), (NEW.tool); END;
CREATE TRIGGER wear_reading_gone AFTER DELETE ON reading
BEGIN INSERT OR IGNORE INTO wear_stale VALUES (OLD.tool); END;
CREATE TRIGGER wear_run AFTER UPDATE OF run, life ON tool
WHEN NEW.kind = 'anilox' AND (NEW.run IS NOT OLD.run OR NEW.life <> OLD.life)
BEGIN INSERT OR IGNORE INTO wear_stale VALUES (NEW.id); END;
CREATE TRIGGER wear_engraved AFTER UPDATE OF engraved ON anilox WHEN NEW.engraved IS NOT OLD.engraved
BEGIN INSERT OR IGNORE INTO wear_stale VALUES (NEW.tool); END;
CREATE TRIGGER wear_match_set AFTER INSERT ON setting WHEN NEW.name = 'trend_match'
BEGIN INSERT OR IGNORE INTO wear_stale SELECT tool FROM wear; END;
CREATE TRIGGER wear_match_changed AFTER UPDATE ON setting WHEN NEW.name = 'trend_match'
BEGIN INSERT OR IGNORE INTO wear_stale SELECT tool FROM wear; END;
CREATE TRIGGER wear_match_gone AFTER DELETE ON setting WHEN OLD.name = 'trend_match'
BEGIN INSERT OR IGNORE INTO wear_stale SELECT tool FROM wear; END;
INSERT INTO wear_stale SELECT DISTINCT tool FROM reading;

-- What the trend of a roll tells by now, so that of many rolls only those of a volume are looked at.
ALTER TABLE anilox ADD COLUMN forecast REAL /* the line at the run on record, 1e-6 cm3/m2; NULL: no trend that forecasts */;
ALTER TABLE anilox ADD COLUMN forecast_slope REAL /* 1e-6 cm3/m2 a metre */;
DROP INDEX anilox_line_screen;
CREATE INDEX anilox_line_screen ON anilox (line_screen, volume, read_volume, forecast, forecast_slope);
