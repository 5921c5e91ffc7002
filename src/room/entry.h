/*
 * Taking a record in: values out of words, references resolved, rules that hold between attributes.
 * What is wrong is gathered, so that a row of a file can name all of it.
 */
#ifndef TOOTHRACK_ROOM_ENTRY_H
#define TOOTHRACK_ROOM_ENTRY_H

#include "toothrack/room.h"

/* Something wrong with a record: at an attribute, or with the record itself (NULL). */
struct complaint {
	const char *attribute;
	const char *sentence;
	const char *hint; /* "" where there is none */
};
#define COMPLAINTS_MOST 24 /* kept of one record; more are counted */
struct complaints {
	struct arena *arena;
	struct complaint items[COMPLAINTS_MOST];
	size_t count; /* kept */
	size_t total;
};
void complain(struct complaints *complaints, const char *attribute, const char *hint,
              const char *format, ...) __attribute__((format(printf, 4, 5)));
void complain_fault(struct complaints *complaints, const char *attribute,
                    const struct fault *fault);
/* The complaint at an attribute; NULL where there is none. */
const struct complaint *complaint_at(const struct complaints *complaints, const char *attribute);

/* A record being taken in. */
struct entry_form {
	struct store *store;
	struct arena *arena;
	const struct actor *actor;
	const struct limits *limits;
	struct record *record;
	int64_t known; /* id of the record on file that it is, 0: none */
	bool stands;   /* it stands on record just so: nothing is to be written */
	bool file;     /* of a file of many: such as an export, which tells how things stood */
	bool plain;    /* unknown names are not told with the nearest: there may be very many */
	/* Of a record on file, as they stood before entry_merge: its code and condition. */
	const char *stood_code, *stood_condition;
	bool stood_note; /* its note is the one that stood, and says nothing of a condition given now */
	struct complaints complaints;
};

/* Empty, of a kind. */
struct entry_form entry_form_new(struct store *store, struct arena *arena,
                                 const struct actor *actor, const struct limits *limits,
                                 const struct kind *kind);
/*
 * Reads one value; `unit` is NULL or that of a CSV heading. What is wrong with it becomes a
 * complaint.
 */
void entry_take(struct entry_form *form, size_t attribute, const char *unit, const char *text);
/* Resolves what the words name. Only the store can fail; an unknown name is a complaint. */
enum outcome entry_resolve(struct entry_form *form, struct fault *fault);
/* The rules: what must be given, what must agree. As entry_resolve. */
enum outcome entry_check(struct entry_form *form, struct fault *fault);
/* Of the rules, those about tag, codes and other tag. As entry_resolve. */
enum outcome entry_check_names(struct entry_form *form, struct fault *fault);

/*
 * Which record on file this is, into `form->known`: by its tag, code, number, badge or other tag; a
 * station or cut by job and number, a reading by roll, moment, method and what it came after. Two
 * names of two records are a complaint.
 */
enum outcome entry_identify(struct entry_form *form, struct fault *fault);
/*
 * The record on file that it is (`form->known`), with what is given put in its place, becomes
 * `form->record`; its tag stays. A tool that goes elsewhere by it is not due back any more, unless
 * that is given too. `given`: by attribute.
 */
enum outcome entry_merge(struct entry_form *form, const bool *given, struct fault *fault);
/*
 * Reads words typed as `key=value`; an unknown or repeated key is a fault, a bad value a complaint.
 * `given` (or NULL) receives which attributes were given.
 */
enum outcome entry_take_pairs(struct entry_form *form, const struct pair *pairs, size_t count,
                              bool *given, struct fault *fault);
/* The first complaint as a fault of that outcome, the others counted; DONE where there is none. */
enum outcome entry_first_complaint(const struct complaints *complaints, enum outcome outcome,
                                   struct fault *fault);
/* What it is called, for messages: `code R2-4`, `station 3 of job J1`. */
const char *entry_name(const struct entry_form *form);

/*
 * The names by which two rows of a file would be one record, each in one spelling; returns how
 * many.
 */
#define ENTRY_NAMES_MOST 2
size_t entry_names(const struct entry_form *form, const char *names[ENTRY_NAMES_MOST]);

/* The attribute that names a record of this kind beside its tag; NULL: none does. */
const char *entry_code_attribute(const struct kind *kind);
/* `a` or `an`, before the kind's title. */
const char *entry_article(const struct kind *kind);
/* The attribute's name that is nearest to a word; NULL where none is near. */
const char *entry_nearest_attribute(struct arena *arena, const struct kind *kind, const char *word);

/* Is the word a command of the program? An other tag may not look like one. */
bool word_is_command(const char *word);

#endif
