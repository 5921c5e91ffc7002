-- What planning needs: promises with the check they rest on, runs of jobs, and promises that something has broken.

-- One promise of tools to a job, by a check that chose them. Kept for ever; what of it holds now stands in booking too.
CREATE TABLE promise (
	id INTEGER PRIMARY KEY,                            -- number of the promise
	job INTEGER NOT NULL REFERENCES job (id),          -- to this job
	press INTEGER NOT NULL REFERENCES press (id),      -- on which it is to run
	starts INTEGER NOT NULL,                           -- moment
	ends INTEGER NOT NULL,                             -- moment
	teeth INTEGER CHECK (teeth > 0),                   -- of the repeat that the check answered
	pitch TEXT,                                        -- as written: 1/8cp
	repeat INTEGER CHECK (repeat > 0),                 -- of one without teeth, nm
	number_around INTEGER CHECK (number_around > 0),   -- labels in one repeat
	verdict TEXT NOT NULL CHECK (verdict IN ('ready', 'caution')), -- of the check that it rests on
	answer TEXT NOT NULL,                              -- that check, whole, as JSON
	asked INTEGER NOT NULL,                            -- moment it was asked
	operator INTEGER REFERENCES operator (id),         -- who asked; NULL: no badge
	login TEXT NOT NULL,                               -- the system's login name of who asked
	made INTEGER NOT NULL REFERENCES ledger (number),  -- the entry that made it
	ended INTEGER REFERENCES ledger (number),          -- the entry that ended it; NULL: it holds
	CHECK (starts <= ends)
) STRICT;
CREATE UNIQUE INDEX promise_of_job ON promise (job) WHERE ended IS NULL;
CREATE INDEX promise_of_press ON promise (press, starts) WHERE ended IS NULL;
CREATE INDEX promise_when ON promise (starts) WHERE ended IS NULL;
CREATE INDEX promise_made ON promise (made);
CREATE INDEX promise_ended ON promise (ended) WHERE ended IS NOT NULL;

-- The tools of a promise, one a need.
CREATE TABLE promise_tool (
	promise INTEGER NOT NULL REFERENCES promise (id),  -- the promise
	tool INTEGER NOT NULL REFERENCES tool (id),        -- promised by it
	need TEXT NOT NULL CHECK (need IN ('cylinder', 'gear', 'anilox', 'blade', 'die', 'magnetic_cylinder', 'sleeve', 'mandrel', 'screen_unit')), -- what it is for
	station INTEGER CHECK (station > 0),               -- at that station
	cut INTEGER CHECK (cut > 0),                       -- or for that cut
	PRIMARY KEY (promise, tool),
	CHECK ((station IS NULL) <> (cut IS NULL))
) STRICT, WITHOUT ROWID;

-- A job running, or that has run, on a press.
CREATE TABLE job_run (
	id INTEGER PRIMARY KEY,                            -- number of the run
	job INTEGER NOT NULL REFERENCES job (id),          -- what runs
	press INTEGER NOT NULL REFERENCES press (id),      -- where
	started INTEGER NOT NULL,                          -- moment
	finished INTEGER,                                  -- moment; NULL: it still runs
	start_entry INTEGER NOT NULL UNIQUE REFERENCES ledger (number), -- the entry that started it
	finish_entry INTEGER UNIQUE REFERENCES ledger (number), -- the entry that finished it
	CHECK ((finished IS NULL) = (finish_entry IS NULL))
) STRICT;
CREATE UNIQUE INDEX job_run_now ON job_run (job) WHERE finished IS NULL;
CREATE UNIQUE INDEX job_run_on_press ON job_run (press) WHERE finished IS NULL;
CREATE INDEX job_run_of_job ON job_run (job, started);

-- What has broken a promise that still holds. Written by the change that broke it; one a need, or one of the job itself.
CREATE TABLE risk (
	job INTEGER NOT NULL REFERENCES job (id),          -- whose promise
	number INTEGER NOT NULL CHECK (number > 0),        -- 1, 2, 3 within the job
	tool INTEGER REFERENCES tool (id),                 -- the tool that fails it; NULL: no tool, but the press or the job
	need TEXT NOT NULL,                                -- what it was promised for, or press, web, repeat
	station INTEGER CHECK (station > 0),               -- at that station
	cut INTEGER CHECK (cut > 0),                       -- or for that cut
	text TEXT NOT NULL,                                -- why, as it is told
	since INTEGER NOT NULL,                            -- moment from which it is at risk: may lie ahead, as where a tool is not back by then
	entry INTEGER REFERENCES ledger (number),          -- the entry by which it came about; NULL: time alone
	PRIMARY KEY (job, number)
) STRICT, WITHOUT ROWID;
CREATE INDEX risk_since ON risk (since, job);
