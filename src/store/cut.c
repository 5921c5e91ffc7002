/* Cuts of a job. */
#include "internal.h"

/* The id given, of a row that comes back; else one that no row had before, for the ledger's sake.
 */
#define NEXT_ID \
	"COALESCE(:id, 1 + max(COALESCE((SELECT max(id) FROM cut), 0)," \
	" COALESCE((SELECT max(subject) FROM ledger WHERE subject_kind = 'cut'), 0)))"

const struct record_sql cut_sql = {
	.insert = {"new cut",
               "INSERT INTO cut (id, job, cut, kind, die)"
               " VALUES (" NEXT_ID ", :job, :cut, :kind, :die)",
               false},
	.update = {"changed cut",
               "UPDATE cut SET job = :job, cut = :cut, kind = :kind, die = :die WHERE id = :id",
               false},
	.read =
		{"cut",
         "SELECT j.number AS job, c.job AS job_id, c.cut, c.kind, t.tag AS die, c.die AS die_id"
         " FROM cut c JOIN job j ON j.id = c.job LEFT JOIN tool t ON t.id = c.die WHERE c.id = :id",
         false},
};
