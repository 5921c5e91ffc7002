/*
 * How the predicates say what speaks against a tool. A check judges every tool of the shelf and
 * shows the remarks of few: where nobody reads them no text is made.
 */
#ifndef TOOTHRACK_TRADE_REMARK_H
#define TOOTHRACK_TRADE_REMARK_H

#include "toothrack/trade.h"

enum suits suits_worse(enum suits a, enum suits b);

/* As remark_add, for what ceases by itself. */
enum suits remark_add_until(struct remarks *remarks, enum suits level, struct known_moment until,
                            const char *format, ...) __attribute__((format(printf, 4, 5)));

/*
 * The outcome of a rule, with a remark; both give `level`. The words behind it are looked at only
 * where `remarks` is not NULL.
 */
#define REMARK(remarks, level, ...) \
	((remarks) ? remark_add((remarks), SUITS_YES, (level), __VA_ARGS__) : (level))
#define REMARK_UNTIL(remarks, level, until, ...) \
	((remarks) ? remark_add_until((remarks), (level), (until), __VA_ARGS__) : (level))

/* Tooling, as the shop writes it. */
struct quantity_text tooling_text(struct length length, enum units units);
/* Web, as the shop writes it. */
struct quantity_text run_text(struct length length, enum units units);
/*
 * The outcome of arithmetic, to 0.001 mm or 0.00001 in; finer where that would make it the same as
 * the figure it stands beside. `beside` may be NULL.
 */
struct quantity_text real_text(struct real_length real, const struct length *beside,
                               enum units units);

/* Several words in one text. */
struct words {
	char bytes[160];
};
/* `304.8mm (96 teeth 1/8cp)`, or the plain length alone */
struct words repeat_words(struct repeat repeat, enum units units);
/* `1/8cp, 10dp` */
struct words pitch_words(const struct pitch *pitches, size_t count);

#endif
