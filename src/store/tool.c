/* What every tool has. */
#include "internal.h"

const struct record_sql tool_sql = {
	.insert =
		{"new tool",
         "INSERT INTO tool (kind, tag, "
         "maker_serial, name, fit, place, home, condition, condition_reason, condition_since, "
         "back, face, face_from, face_to, weight, cost, acquired, run, note"
         ") VALUES (:kind, :tag, "
         ":maker_serial, :name, :fit, :place, :home, :condition, :condition_reason, "
         ":condition_since, :back, :face, :face_from, :face_to, :weight, :cost, :acquired, "
         ":run, :note"
         ")",
         false},
	.update = {"changed tool",
               "UPDATE tool SET "
               "maker_serial = :maker_serial, name = :name, fit = :fit, place = :place, "
               "home = :home, condition = :condition, condition_reason = :condition_reason, "
               "condition_since = :condition_since, back = :back, face = :face, "
               "face_from = :face_from, face_to = :face_to, weight = :weight, cost = :cost, "
               "acquired = :acquired, run = :run, note = :note"
               " WHERE id = :id",
               false},
	.read = {"tool",
             "SELECT "
             "t.tag, t.maker_serial, o.code AS other_tag, t.name, t.fit, p.code AS place, "
             "t.place AS place_id, h.code AS home, t.home AS home_id, t.condition, t.back, "
             "t.face, t.face_from, t.face_to, t.weight, t.cost, t.acquired, t.run, t.note"
             " FROM tool t LEFT JOIN place p ON p.id = t.place LEFT JOIN place h ON h.id = t.home"
             " LEFT JOIN other_tag o ON o.tool = t.id WHERE t.id = :id",
             false},
};
