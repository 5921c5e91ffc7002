-- What rolls had run as people told it, so that what they had run by each reading rests on that and on the web of jobs.

-- A roll put on record with its run, a run corrected, a roll engraved anew: one each.
CREATE TABLE run_told (
	id INTEGER PRIMARY KEY,                            -- number of the record
	tool INTEGER NOT NULL REFERENCES tool (id),        -- the roll
	life INTEGER NOT NULL,                             -- of the roll by then
	moment INTEGER NOT NULL,                           -- by when
	entry INTEGER NOT NULL REFERENCES ledger (number), -- the entry that told it
	run INTEGER CHECK (run >= 0),                      -- web of the life by then, nm; NULL: told not to be known
	UNIQUE (tool, entry)
) STRICT;
CREATE INDEX run_told_of_tool ON run_told (tool, life, moment, id, run);
CREATE INDEX run_told_of_entry ON run_told (entry);

-- It is no longer kept with each reading: what is put right later puts it right there too.
DROP INDEX reading_of_tool;
ALTER TABLE reading DROP COLUMN run_then;
CREATE INDEX reading_of_tool ON reading (tool, life, after, moment, id, volume, method, run);
CREATE INDEX reading_told ON reading (tool, life, moment, id, run) WHERE run IS NOT NULL;

-- What the ledger knows of it: as an entry left it is what the next one found, less the web between, or what stands now.
INSERT INTO run_told (tool, life, moment, entry, run)
WITH teller AS (
	SELECT t.id AS tool, t.life, t.run, l.number AS entry, l.happened AS moment, l.word = 'new' AS new, b.value AS before,
		(SELECT c.moment FROM entry_before e JOIN care c ON c.id = CAST(e.value AS INTEGER)
			WHERE e.entry = l.number AND e.attribute = 'care'
			AND EXISTS (SELECT 1 FROM entry_before f WHERE f.entry = l.number AND f.attribute = 'tool_life')) AS began
	FROM tool t JOIN ledger l ON l.subject_kind = t.kind AND l.subject = t.id
	LEFT JOIN entry_before b ON b.entry = l.number AND b.attribute = 'run'
	WHERE t.kind = 'anilox' AND l.word <> 'undo' AND (l.word = 'new' OR b.entry IS NOT NULL)
	AND NOT EXISTS (SELECT 1 FROM taken_back k WHERE k.entry = l.number)
), chain AS (
	SELECT *, lead(entry) OVER told AS next, lead(before) OVER told AS found,
		count(began) OVER (PARTITION BY tool ORDER BY entry DESC) - (began IS NOT NULL) AS lives_after
	FROM teller WINDOW told AS (PARTITION BY tool ORDER BY entry)
), summed AS (
	SELECT *, (SELECT json_array(COALESCE(sum(w.length), 0), min(w.run_known)) FROM web_run w
		WHERE w.tool = chain.tool AND w.entry > chain.entry AND w.entry < COALESCE(chain.next, 9223372036854775807)) AS web
	FROM chain
), counted AS (
	SELECT *, json_extract(web, '$[0]') AS ran, json_extract(web, '$[1]') IS 0 AS not_known FROM summed
), told AS (
	SELECT tool, life - lives_after AS life, COALESCE(began, moment) AS moment, entry, new, began IS NOT NULL AS began,
		CASE WHEN began IS NOT NULL THEN 0 WHEN not_known THEN NULL WHEN next IS NULL THEN run - ran
			ELSE CAST(round(CAST(found AS REAL) * 1e9) AS INTEGER) - ran END AS run
	FROM counted
)
SELECT tool, life, max(moment, COALESCE((SELECT max(w.moment) FROM web_run w
		WHERE w.tool = told.tool AND w.life = told.life AND w.entry < told.entry AND NOT began), moment)), entry, run
FROM told WHERE COALESCE(run, 0) >= 0 AND NOT (new AND run IS NULL) ORDER BY entry;
-- Where the clock has gone back it ran after what was told before, all the same.
UPDATE web_run SET moment = (SELECT max(r.moment) FROM run_told r WHERE r.tool = web_run.tool AND r.life = web_run.life AND r.entry < web_run.entry)
WHERE EXISTS (SELECT 1 FROM run_told r WHERE r.tool = web_run.tool AND r.life = web_run.life AND r.entry < web_run.entry AND r.moment > web_run.moment);

-- The trends are worked out anew with it, and whenever it changes.
CREATE TRIGGER wear_run_told AFTER INSERT ON run_told
BEGIN INSERT OR IGNORE INTO wear_stale VALUES (NEW.tool); END;
CREATE TRIGGER wear_run_told_no_more AFTER DELETE ON run_told
BEGIN INSERT OR IGNORE INTO wear_stale VALUES (OLD.tool); END;
INSERT OR IGNORE INTO wear_stale SELECT DISTINCT tool FROM reading;
