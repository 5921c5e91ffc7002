-- A shop: its places, presses, tools, jobs, what was measured, what is promised, and the ledger of all that happened.
-- Lengths are whole nanometres, volumes whole 1e-6 cm3/m2, weights whole micrograms, angles whole 1e-6 degrees, speeds whole nm a minute,
-- money whole cents. Moments are whole seconds since 1970-01-01T00:00:00Z; dates are text as typed: 2026-12-01, or a moment in UTC.

CREATE TABLE shop (
	key TEXT NOT NULL PRIMARY KEY, -- fixed_clock: '1' where the file was made under a stopped clock
	value TEXT NOT NULL            -- its value
) STRICT;

CREATE TABLE setting (
	name TEXT NOT NULL PRIMARY KEY, -- one of the shop's limits and habits; the table of them, with defaults, is in the program
	value TEXT NOT NULL,            -- as typed
	set_at INTEGER NOT NULL,        -- moment
	set_by TEXT NOT NULL            -- operator's badge, or the login name
) STRICT;

CREATE TABLE tag_serial (
	class TEXT NOT NULL PRIMARY KEY,        -- two letters, as on the tag
	last INTEGER NOT NULL CHECK (last >= 0) -- the highest serial ever given; never goes back
) STRICT;

CREATE TABLE operator (
	id INTEGER PRIMARY KEY,                                      -- number of the record
	tag TEXT NOT NULL UNIQUE,                                    -- as stored: OP000001X
	badge TEXT NOT NULL UNIQUE COLLATE NOCASE,                   -- the shop's own number
	name TEXT NOT NULL,                                          -- as it is shown
	role TEXT NOT NULL CHECK (role IN ('clerk', 'planner', 'maintenance', 'supervisor')), -- what the operator may do
	retired INTEGER NOT NULL DEFAULT 0 CHECK (retired IN (0, 1)) -- 1: no longer here
) STRICT;

CREATE TABLE place (
	id INTEGER PRIMARY KEY,                                        -- number of the record
	tag TEXT NOT NULL UNIQUE,                                      -- as stored: PL000001X
	code TEXT NOT NULL UNIQUE COLLATE NOCASE,                      -- what the shop calls it: R2-4
	name TEXT,                                                     -- in words
	within INTEGER REFERENCES place (id) CHECK (within IS NOT id), -- the place it is in
	sort TEXT NOT NULL CHECK (sort IN ('store', 'press', 'cart', 'wash', 'supplier', 'lost')), -- what it is for
	walk INTEGER,                                                  -- order on the round
	capacity INTEGER CHECK (capacity > 0),                         -- tools it takes
	processes TEXT,                                                -- of a press station: comma-separated; NULL is all
	condition TEXT NOT NULL DEFAULT 'ready' CHECK (condition IN ('ready', 'hold')), -- hold: not to be used
	condition_reason TEXT,                                         -- why it is on hold
	condition_since INTEGER,                                       -- moment of the last change of condition
	note TEXT,                                                     -- free words
	retired INTEGER NOT NULL DEFAULT 0 CHECK (retired IN (0, 1)),  -- 1: no longer used
	press INTEGER REFERENCES press (id),                           -- the press it is part of
	station INTEGER CHECK (station > 0),                           -- its number among that press's stations
	die_station INTEGER CHECK (die_station > 0),                   -- or among its die stations
	CHECK (station IS NULL OR die_station IS NULL),
	CHECK (condition = 'ready' OR condition_since IS NOT NULL)
) STRICT;
CREATE INDEX place_within ON place (within);
CREATE UNIQUE INDEX place_station ON place (press, station) WHERE station IS NOT NULL;
CREATE UNIQUE INDEX place_die_station ON place (press, die_station) WHERE die_station IS NOT NULL;
CREATE INDEX place_press ON place (press);

CREATE TABLE press (
	id INTEGER PRIMARY KEY,                                       -- number of the record
	tag TEXT NOT NULL UNIQUE,                                     -- as stored: PR000001X
	code TEXT NOT NULL UNIQUE COLLATE NOCASE,                     -- what the shop calls it: P1
	name TEXT,                                                    -- in words
	drive TEXT CHECK (drive IN ('geared', 'servo')),              -- geared: one train turns all; servo: a motor each
	web INTEGER CHECK (web > 0),                                  -- widest, nm
	repeat_min INTEGER CHECK (repeat_min >= 0),                   -- shortest repeat it takes, nm
	repeat_max INTEGER CHECK (repeat_max > 0),                    -- longest repeat it takes, nm
	pitches TEXT,                                                 -- of its gear train, comma-separated
	pressure_angle INTEGER,                                       -- of its gear train, 1e-6 degrees
	helix INTEGER,                                                -- of its gear train, 1e-6 degrees
	stations INTEGER NOT NULL CHECK (stations > 0),               -- print stations
	die_stations INTEGER CHECK (die_stations >= 0),               -- NULL is not known
	spacing INTEGER CHECK (spacing > 0),                          -- web between stations, nm
	fit TEXT,                                                     -- bearers and journals it takes, comma-separated; NULL takes everything
	speed INTEGER CHECK (speed > 0),                              -- nm a minute
	retired INTEGER NOT NULL DEFAULT 0 CHECK (retired IN (0, 1)), -- 1: no longer used
	CHECK (repeat_min IS NULL OR repeat_max IS NULL OR repeat_min <= repeat_max)
) STRICT;

CREATE TABLE job (
	id INTEGER PRIMARY KEY,                             -- number of the record
	tag TEXT NOT NULL UNIQUE,                           -- as stored: JB000001X
	number TEXT NOT NULL UNIQUE COLLATE NOCASE,         -- the shop's own number
	title TEXT,                                         -- in words
	state TEXT NOT NULL CHECK (state IN ('planned', 'running', 'finished', 'cancelled')), -- planned until it runs
	starts TEXT,                                        -- date or moment: `from`
	ends TEXT,                                          -- date or moment: `until`
	quantity INTEGER CHECK (quantity >= 0),             -- labels
	label_across INTEGER CHECK (label_across > 0),      -- label size across the web, nm
	label_around INTEGER CHECK (label_around > 0),      -- label size along the web, nm
	corner INTEGER CHECK (corner >= 0),                 -- radius of its corners, nm
	shape TEXT CHECK (shape IN ('rectangle', 'circle', 'oval', 'special')), -- NULL is not asked
	number_across INTEGER CHECK (number_across > 0),    -- labels side by side
	gap_across INTEGER CHECK (gap_across >= 0),         -- between two of them, nm
	gap_around_min INTEGER CHECK (gap_around_min >= 0), -- least gap along the web, nm
	gap_around_max INTEGER CHECK (gap_around_max >= 0), -- most gap along the web, nm
	trim INTEGER CHECK (trim >= 0),                     -- waste at each side, nm
	web INTEGER CHECK (web > 0),                        -- stock width
	liner_caliper INTEGER CHECK (liner_caliper >= 0),   -- thickness of the liner, nm
	teeth INTEGER CHECK (teeth > 0),                    -- of a repeat order
	pitch TEXT,                                         -- as written: 1/8cp
	repeat INTEGER CHECK (repeat > 0),                  -- of a repeat order without teeth, nm
	number_around INTEGER CHECK (number_around > 0)     -- labels in one repeat
) STRICT;
CREATE INDEX job_state ON job (state);

CREATE TABLE job_press (
	job INTEGER NOT NULL REFERENCES job (id),     -- a job
	press INTEGER NOT NULL REFERENCES press (id), -- one it may run on
	position INTEGER NOT NULL,                    -- in the order given
	PRIMARY KEY (job, press)
) STRICT, WITHOUT ROWID;
CREATE INDEX job_press_press ON job_press (press);

CREATE TABLE tool (
	id INTEGER PRIMARY KEY,                                    -- number of the record
	kind TEXT NOT NULL,                                        -- cylinder, gear, anilox, ...: the table of kinds is in the program
	tag TEXT NOT NULL UNIQUE,                                  -- as stored: PC000123Y
	maker_serial TEXT,                                         -- the maker's number on it
	name TEXT,                                                 -- in words
	fit TEXT,                                                  -- bearer and journal words, comma-separated; NULL is not known
	place INTEGER REFERENCES place (id),                       -- where it is; follows the ledger
	home INTEGER REFERENCES place (id),                        -- where it belongs
	condition TEXT NOT NULL DEFAULT 'ready' CHECK (condition IN ('ready', 'hold', 'scrapped')), -- hold: may not run; scrapped: never again
	condition_reason TEXT,                                     -- why it is on hold or scrapped
	condition_since INTEGER,                                   -- moment of the last change of condition
	back TEXT,                                                 -- date or moment it is due back
	taken_for INTEGER REFERENCES job (id),                     -- out for this job
	face INTEGER CHECK (face > 0),                             -- whole width of the working face, nm
	face_from INTEGER CHECK (face_from >= 0),                  -- usable band, where part of the face is damaged
	face_to INTEGER CHECK (face_to >= 0),                      -- where the usable band ends, nm
	weight INTEGER CHECK (weight >= 0),                        -- micrograms
	cost INTEGER CHECK (cost >= 0),                            -- cents of the shop's currency
	acquired TEXT,                                             -- date
	run INTEGER CHECK (run >= 0),                              -- web since new, or since the life now running began, nm
	note TEXT,                                                 -- free words
	life INTEGER NOT NULL DEFAULT 1 CHECK (life > 0),          -- which life it is in: a regrind, an engraving, a new blade starts the next
	CHECK (face_from IS NULL OR face_to IS NULL OR face_from < face_to),
	CHECK (condition = 'ready' OR condition_since IS NOT NULL)
) STRICT;
CREATE INDEX tool_place ON tool (place);
CREATE INDEX tool_taken_for ON tool (taken_for) WHERE taken_for IS NOT NULL;

CREATE TABLE other_tag (
	code TEXT NOT NULL PRIMARY KEY COLLATE NOCASE, -- a number the shop already had
	tool INTEGER NOT NULL REFERENCES tool (id)     -- the tool that has it
) STRICT, WITHOUT ROWID;
CREATE INDEX other_tag_tool ON other_tag (tool);

CREATE TABLE cylinder (
	tool INTEGER PRIMARY KEY REFERENCES tool (id), -- the tool that this is
	teeth INTEGER CHECK (teeth > 0),               -- of its gear
	pitch TEXT,                                    -- as written: 1/8cp
	drive TEXT CHECK (drive IN ('geared', 'demountable', 'gearless')), -- geared: gear fixed to it; demountable: takes a loose gear
	repeat INTEGER CHECK (repeat > 0),             -- gearless only
	undercut INTEGER CHECK (undercut >= 0),        -- radial
	diameter INTEGER CHECK (diameter > 0),         -- measured, bare
	runout INTEGER CHECK (runout >= 0),            -- measured, nm
	bore INTEGER CHECK (bore > 0),                 -- nm
	pressure_angle INTEGER,                        -- of its gear teeth, 1e-6 degrees
	helix INTEGER,                                 -- of its gear teeth, 1e-6 degrees
	hand TEXT CHECK (hand IN ('left', 'right')),   -- of the helix
	carries INTEGER REFERENCES job (id),           -- whose plates are on it
	around INTEGER                                 -- its own length: teeth x pitch, or repeat, rounded to whole nm
) STRICT;
CREATE INDEX cylinder_around ON cylinder (around);
CREATE INDEX cylinder_carries ON cylinder (carries) WHERE carries IS NOT NULL;

CREATE TABLE gear (
	tool INTEGER PRIMARY KEY REFERENCES tool (id), -- the tool that this is
	teeth INTEGER CHECK (teeth > 0),               -- of its gear
	pitch TEXT,                                    -- of its gear, as written: 1/8cp
	pressure_angle INTEGER,                        -- of its gear teeth, 1e-6 degrees
	helix INTEGER,                                 -- of its gear teeth, 1e-6 degrees
	hand TEXT CHECK (hand IN ('left', 'right')),   -- of the helix
	bore INTEGER CHECK (bore > 0),                 -- nm
	around INTEGER                                 -- own length around: teeth x pitch, whole nm
) STRICT;
CREATE INDEX gear_around ON gear (around);

CREATE TABLE anilox (
	tool INTEGER PRIMARY KEY REFERENCES tool (id),         -- the tool that this is
	line_screen REAL CHECK (line_screen > 0),              -- lines per cm
	volume INTEGER CHECK (volume > 0),                     -- when new
	angle INTEGER,                                         -- of the engraving, 1e-6 degrees
	diameter INTEGER CHECK (diameter > 0),                 -- nm
	surface TEXT CHECK (surface IN ('ceramic', 'chrome')), -- what it is engraved in
	engraved TEXT                                          -- date
) STRICT;
CREATE INDEX anilox_line_screen ON anilox (line_screen);

CREATE TABLE blade (
	tool INTEGER PRIMARY KEY REFERENCES tool (id), -- the tool that this is
	length INTEGER CHECK (length > 0),             -- nm
	material TEXT CHECK (material IN ('steel', 'coated', 'polymer')), -- of the blade
	thickness INTEGER CHECK (thickness > 0),       -- nm
	edge TEXT CHECK (edge IN ('square', 'bevel', 'lamella', 'round')), -- how it is ground
	fitted TEXT,                                   -- date
	life INTEGER CHECK (life >= 0)                 -- web, nm
) STRICT;
CREATE INDEX blade_length ON blade (length);

CREATE TABLE die (
	tool INTEGER PRIMARY KEY REFERENCES tool (id),     -- the tool that this is
	build TEXT CHECK (build IN ('flexible', 'solid')), -- flexible: a sheet on a magnetic cylinder
	cut TEXT CHECK (cut IN ('kiss', 'through', 'perforation', 'back')), -- how deep and what it cuts
	teeth INTEGER CHECK (teeth > 0),                   -- of its gear
	pitch TEXT,                                        -- of its gear, as written: 1/8cp
	number_across INTEGER CHECK (number_across > 0),   -- labels side by side
	number_around INTEGER CHECK (number_around > 0),   -- labels in one turn
	label_across INTEGER CHECK (label_across > 0),     -- label size across the web, nm
	label_around INTEGER CHECK (label_around > 0),     -- label size along the web, nm
	gap_across INTEGER CHECK (gap_across >= 0),        -- between two side by side, nm
	gap_around INTEGER CHECK (gap_around >= 0),        -- between two along the web, nm
	corner INTEGER CHECK (corner >= 0),                -- radius of the corners, nm
	shape TEXT CHECK (shape IN ('rectangle', 'circle', 'oval', 'special')), -- of the label
	liner_caliper INTEGER CHECK (liner_caliper >= 0),  -- thickness of the liner it is made for, nm
	die_gap INTEGER CHECK (die_gap > 0),               -- of the magnetic cylinder it is made for
	life INTEGER CHECK (life >= 0),                    -- revolutions
	around INTEGER                                     -- own length around: teeth x pitch, whole nm
) STRICT;
CREATE INDEX die_label_across ON die (label_across);

CREATE TABLE magnetic_cylinder (
	tool INTEGER PRIMARY KEY REFERENCES tool (id), -- the tool that this is
	teeth INTEGER CHECK (teeth > 0),               -- of its gear
	pitch TEXT,                                    -- of its gear, as written: 1/8cp
	die_gap INTEGER CHECK (die_gap > 0),           -- between bearer and magnets, nm
	around INTEGER                                 -- own length around: teeth x pitch, whole nm
) STRICT;
CREATE INDEX magnetic_cylinder_around ON magnetic_cylinder (around);

CREATE TABLE station (
	id INTEGER PRIMARY KEY,                                     -- number of the record
	job INTEGER NOT NULL REFERENCES job (id),                   -- the job
	station INTEGER NOT NULL CHECK (station > 0),               -- number on the press
	ink TEXT,                                                   -- in words
	process TEXT NOT NULL CHECK (process IN ('flexo', 'cold_foil', 'hot_foil', 'rotary_screen')), -- what is done there
	register INTEGER NOT NULL CHECK (register IN (0, 1)),       -- 0: a flood coat needs no matching repeat
	plate INTEGER CHECK (plate > 0),                            -- its thickness, nm
	base INTEGER CHECK (base >= 0),                             -- of it, polyester, nm
	tape INTEGER CHECK (tape >= 0),                             -- its thickness, nm
	plates TEXT CHECK (plates IN ('none', 'ordered', 'ready')), -- whether they are made
	screen_min REAL CHECK (screen_min > 0),                     -- coarsest anilox, lines per cm
	screen_max REAL CHECK (screen_max > 0),                     -- finest anilox, lines per cm
	volume INTEGER CHECK (volume > 0),                          -- of anilox asked, 1e-6 cm3/m2
	volume_tolerance INTEGER CHECK (volume_tolerance >= 0),     -- parts per million
	plate_screen REAL CHECK (plate_screen > 0),                 -- lines per cm
	UNIQUE (job, station)
) STRICT;

CREATE TABLE cut (
	id INTEGER PRIMARY KEY,                   -- number of the record
	job INTEGER NOT NULL REFERENCES job (id), -- the job
	cut INTEGER NOT NULL CHECK (cut > 0),     -- die station
	kind TEXT NOT NULL CHECK (kind IN ('kiss', 'through', 'perforation', 'back')), -- as a die's cut
	die INTEGER REFERENCES tool (id),         -- where one is named
	UNIQUE (job, cut)
) STRICT;
CREATE INDEX cut_die ON cut (die) WHERE die IS NOT NULL;

CREATE TABLE reading (
	id INTEGER PRIMARY KEY,                                -- number of the record
	tool INTEGER NOT NULL REFERENCES tool (id),            -- the roll read
	life INTEGER NOT NULL,                                 -- of the tool when it was read
	moment INTEGER NOT NULL,                               -- when it was read
	volume INTEGER NOT NULL CHECK (volume > 0),            -- the mean, where it was read across
	left_volume INTEGER CHECK (left_volume > 0),           -- where it was read across
	centre_volume INTEGER CHECK (centre_volume > 0),       -- where it was read across
	right_volume INTEGER CHECK (right_volume > 0),         -- where it was read across
	method TEXT CHECK (method IN ('surface', 'drawdown')), -- how it was read
	after TEXT CHECK (after IN ('clean', 'run'))           -- NULL counts as run
) STRICT;
CREATE INDEX reading_of_tool ON reading (tool, life, after, moment);

CREATE TABLE care (
	id INTEGER PRIMARY KEY,                     -- number of the record
	tool INTEGER NOT NULL REFERENCES tool (id), -- cared for
	life INTEGER NOT NULL,                      -- of the tool: one that begins a life carries the new number
	moment INTEGER NOT NULL,                    -- when it was done
	what TEXT NOT NULL CHECK (what IN ('cleaned', 'dirty', 'reblade', 'regrind', 'engraved', 'gauged', 'damaged')), -- what was done or found
	face_from INTEGER,                          -- the band damaged
	face_to INTEGER,                            -- where that band ends
	note TEXT                                   -- free words
) STRICT;
CREATE INDEX care_of_tool ON care (tool, life, moment);

CREATE TABLE booking (
	id INTEGER PRIMARY KEY,                     -- number of the record
	tool INTEGER NOT NULL REFERENCES tool (id), -- promised
	job INTEGER NOT NULL REFERENCES job (id),   -- to this job
	need TEXT NOT NULL CHECK (need IN ('cylinder', 'gear', 'anilox', 'blade', 'die', 'magnetic_cylinder', 'sleeve', 'mandrel', 'screen_unit')), -- what it is for
	station INTEGER CHECK (station > 0),        -- a need is a row: two tools can fill one station
	cut INTEGER CHECK (cut > 0),                -- or a cut
	starts INTEGER NOT NULL,                    -- moment
	ends INTEGER NOT NULL,                      -- moment
	CHECK (starts <= ends),
	CHECK ((station IS NULL) <> (cut IS NULL))
) STRICT;
CREATE INDEX booking_of_tool ON booking (tool, starts);
CREATE INDEX booking_of_job ON booking (job);

-- A tool is promised once at a time. Spans that touch do not overlap; the turnaround between is the program's to keep.
CREATE TRIGGER booking_overlap_insert BEFORE INSERT ON booking
WHEN EXISTS (SELECT 1 FROM booking WHERE tool = NEW.tool AND job <> NEW.job
	AND ((starts < NEW.ends AND NEW.starts < ends) OR starts = NEW.starts))
BEGIN SELECT RAISE(ABORT, 'booking overlaps another of the same tool'); END;
CREATE TRIGGER booking_overlap_update BEFORE UPDATE ON booking
WHEN EXISTS (SELECT 1 FROM booking WHERE tool = NEW.tool AND job <> NEW.job AND id <> NEW.id
	AND ((starts < NEW.ends AND NEW.starts < ends) OR starts = NEW.starts))
BEGIN SELECT RAISE(ABORT, 'booking overlaps another of the same tool'); END;

-- All that happened, in the order in which it was recorded. Nothing in it is ever changed.
CREATE TABLE ledger (
	number INTEGER PRIMARY KEY,                  -- 1, 2, 3 without a gap
	word TEXT NOT NULL,                          -- what was done: new, changed, put, send, receive, hold, clear, set
	subject_kind TEXT NOT NULL,                  -- kind of the record it was done to; `setting` for a limit or habit
	subject INTEGER NOT NULL,                    -- its id; 0 for a setting
	operator INTEGER REFERENCES operator (id),   -- NULL: no badge
	login TEXT NOT NULL,                         -- the system's login name
	terminal TEXT NOT NULL,                      -- where it was typed
	from_place INTEGER REFERENCES place (id),    -- where it was
	to_place INTEGER REFERENCES place (id),      -- where it went
	job INTEGER REFERENCES job (id),             -- for which job
	happened INTEGER NOT NULL,                   -- moment it happened
	recorded INTEGER NOT NULL,                   -- moment it was written here; never goes back
	detail TEXT,                                 -- reason, or what was changed
	hash BLOB NOT NULL CHECK (length(hash) = 32) -- SHA-256 over the hash before and this entry: see DEVELOPERS.md
) STRICT;
CREATE INDEX ledger_of_subject ON ledger (subject_kind, subject, happened, number);
CREATE INDEX ledger_from_place ON ledger (from_place, happened) WHERE from_place IS NOT NULL;
CREATE INDEX ledger_to_place ON ledger (to_place, happened) WHERE to_place IS NOT NULL;

CREATE TRIGGER ledger_keeps_rows BEFORE DELETE ON ledger
BEGIN SELECT RAISE(ABORT, 'ledger entries are never removed'); END;
CREATE TRIGGER ledger_keeps_values BEFORE UPDATE ON ledger
BEGIN SELECT RAISE(ABORT, 'ledger entries are never changed'); END;
CREATE TRIGGER ledger_in_order BEFORE INSERT ON ledger
WHEN NEW.recorded < (SELECT recorded FROM ledger ORDER BY number DESC LIMIT 1)
	OR NEW.number <> 1 + COALESCE((SELECT number FROM ledger ORDER BY number DESC LIMIT 1), 0)
BEGIN SELECT RAISE(ABORT, 'ledger entries follow one another'); END;
