/* Readings of anilox volume: events, never changed by a later one. */
#include "internal.h"

const struct record_sql reading_sql = {
	.insert = {"new reading",
	           "INSERT INTO reading (tool, life, moment, volume, left_volume, centre_volume, right_volume,"
	           " method, after) VALUES (:tool, (SELECT life FROM tool WHERE id = :tool), :moment, :volume,"
	           " :left_volume, :centre_volume, :right_volume, :method, :after)",
	           false},
	.update = {"changed reading",
	           "UPDATE reading SET moment = :moment, volume = :volume, left_volume = :left_volume,"
	           " centre_volume = :centre_volume, right_volume = :right_volume, method = :method,"
	           " after = :after WHERE id = :id AND tool = :tool",
	           false},
	.read = {"reading",
	         "SELECT t.tag AS tool, r.tool AS tool_id, r.moment, r.volume, r.left_volume, r.centre_volume,"
	         " r.right_volume, r.method, r.after FROM reading r JOIN tool t ON t.id = r.tool"
	         " WHERE r.id = :id",
	         false},
};
