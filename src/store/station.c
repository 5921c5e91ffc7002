/* Stations of a job. */
#include "internal.h"

/* The id given, of a row that comes back; else one that no row had before, for the ledger's sake.
 */
#define NEXT_ID \
	"COALESCE(:id, 1 + max(COALESCE((SELECT max(id) FROM station), 0)," \
	" COALESCE((SELECT max(subject) FROM ledger WHERE subject_kind = 'station'), 0)))"

const struct record_sql station_sql = {
	.insert =
		{"new station",
         "INSERT INTO station (id, job, station, ink, process, register, plate, base, tape, plates,"
         " screen_min, screen_max, volume, volume_tolerance, plate_screen)"
         " VALUES (" NEXT_ID
         ", :job, :station, :ink, :process, :register, :plate, :base, :tape, :plates,"
         " :screen_min, :screen_max, :volume, :volume_tolerance, :plate_screen)",
         false},
	.update =
		{"changed station",
         "UPDATE station SET job = :job, station = :station, ink = :ink, process = :process,"
         " register = :register, plate = :plate, base = :base, tape = :tape, plates = :plates,"
         " screen_min = :screen_min, screen_max = :screen_max, volume = :volume,"
         " volume_tolerance = :volume_tolerance, plate_screen = :plate_screen WHERE id = :id",
         false},
	.read =
		{"station",
         "SELECT j.number AS job, s.job AS job_id, s.station, s.ink, s.process, s.register, s.plate,"
         " s.base, s.tape, s.plates, s.screen_min, s.screen_max, s.volume, s.volume_tolerance,"
         " s.plate_screen FROM station s JOIN job j ON j.id = s.job WHERE s.id = :id",
         false},
};
