/* Operators and their badges. */
#include "internal.h"

const struct record_sql operator_sql = {
	.insert = {"new operator",
               "INSERT INTO operator (tag, badge, name, role, retired)"
               " VALUES (:tag, :badge, :name, :role, :retired)",
               false},
	.update = {"changed operator",
               "UPDATE operator SET badge = :badge, name = :name, role = :role, retired = :retired"
               " WHERE id = :id",
               false},
	.read = {"operator", "SELECT tag, badge, name, role, retired FROM operator WHERE id = :id",
             false},
};
