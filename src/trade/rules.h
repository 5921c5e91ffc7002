/* Rules that several rows of the table share. Each says what is wrong in one remark, or SUITS_YES.
 */
#ifndef TOOTHRACK_TRADE_RULES_H
#define TOOTHRACK_TRADE_RULES_H

#include "remark.h"

/* Usable face >= printed_width. */
enum suits rule_face(const struct tool *tool, const struct layout *layout, enum units units,
                     struct remarks *remarks);

/* A tool's own length around is on record; what needs it afterwards need not say so again. */
enum suits rule_own_length(struct repeat own, struct remarks *remarks);

/*
 * A length around within repeat_min..repeat_max of the press, both inclusive; `what` names it. One
 * that is not known is SUITS_NOT without a remark.
 */
enum suits rule_press_repeat(const char *what, struct repeat length, const struct press *press,
                             enum units units, struct remarks *remarks);

/* Each end of it; the length is known. SUITS_NOT too where that end is not known. */
enum suits rule_press_repeat_least(const char *what, struct repeat length,
                                   const struct press *press, enum units units,
                                   struct remarks *remarks);
enum suits rule_press_repeat_most(const char *what, struct repeat length, const struct press *press,
                                  enum units units, struct remarks *remarks);

/* A geared press drives a cylinder by a gear, its own or a loose one. Asked on a geared press only.
 */
enum suits rule_cylinder_driven(const struct cylinder *cylinder, const struct press *press,
                                struct remarks *remarks);

/* Is there a gear train? SUITS_NOT where that is not known. */
enum suits rule_press_drive(const struct press *press, struct remarks *remarks);
bool press_is_geared(const struct press *press);

/* The pitch is among those of the press's gear train. Asked on a geared press only. */
enum suits rule_train_pitch(struct repeat own, const struct press *press, struct remarks *remarks);

/*
 * A gear meshes with the train: its pitch is one of the train's; pressure angle and helix are equal
 * where both are known. A train has no hand on record, so that hands are never both known.
 */
enum suits rule_train_meshes(struct repeat own, struct known_angle pressure_angle,
                             struct known_angle helix, const struct press *press,
                             struct remarks *remarks);

/* Two angles of the same kind, equal where both are known. */
enum suits rule_angle(const char *what, struct known_angle own, const char *whose,
                      struct known_angle other, struct remarks *remarks);

/* What is gone of a volume, to a tenth of a percent; of nothing when new it is not asked. */
struct percent share_lost(struct volume when_new, struct volume left);

/* What a life is that ends within the run: the shop's life_over. */
enum suits life_over_level(const struct limits *limits);

/* Two words of one list (`kiss`, `rectangle`, ...); NULL is no word. */
bool words_equal(const char *a, const char *b);

#endif
