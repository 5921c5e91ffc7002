/*
 * Tags: what the barcode says. Class, serial, check character: `PC000123Y`, shown as `PC000123-Y`.
 * The check character is ISO/IEC 7064 MOD 37,36 over class and serial.
 */
#ifndef TOOTHRACK_TAG_H
#define TOOTHRACK_TAG_H

#include "toothrack/base.h"

enum tag_class {
	TAG_PLATE_CYLINDER,    /* PC */
	TAG_GEAR,              /* GR */
	TAG_ANILOX,            /* AN */
	TAG_BLADE,             /* DB */
	TAG_DIE,               /* DI */
	TAG_MAGNETIC_CYLINDER, /* MC */
	TAG_SLEEVE,            /* SL */
	TAG_MANDREL,           /* MD */
	TAG_SCREEN_UNIT,       /* SU */
	TAG_PLACE,             /* PL */
	TAG_PRESS,             /* PR */
	TAG_JOB,               /* JB */
	TAG_BADGE,             /* OP */
	TAG_ACTION,            /* AC */
	TAG_CLASS_COUNT
};

struct tag {
	enum tag_class class;
	int64_t serial; /* 1 upward, at most 18 digits; written with six, growing past that */
};

/* Longest tag shown: two letters, 18 digits, hyphen, check character, NUL. */
struct tag_text {
	char bytes[24];
};

enum tag_reading {
	TAG_READ,     /* a tag of ours, check character right */
	TAG_MISREAD,  /* has the form of a tag of ours, but the check character disagrees */
	TAG_NOT_OURS, /* has not the form of a tag of ours */
};

/* `PC` for TAG_PLATE_CYLINDER. */
const char *tag_class_letters(enum tag_class class);

/*
 * Reads what was typed or scanned: either case, separators (blank, `-`, `.`, `_`) anywhere or
 * nowhere, an AIM symbology identifier in front (`]C0`), GS (0x1D) and CR, LF, TAB at the ends.
 * Behind a GS1 application identifier too: 91 to 99, or 8004 with a company prefix, 30 in all.
 * Fills `out` for TAG_READ only.
 */
enum tag_reading tag_read(const char *text, struct tag *out);

/*
 * Tags that may have been meant by a text that is none, or by one that nothing bears: what is one
 * slip away (a sign changed, left out, added or doubled, two neighbours swapped), the likeliest
 * first, each once; into `out`, at most `most`; returns how many. Where the check character can be
 * what went wrong, the tag it should stand behind comes first.
 */
#define TAG_NEAR_MOST 512
size_t tag_near(const char *text, struct tag *out, size_t most);

struct tag_text tag_shown(struct tag tag);  /* `PC000123-Y` */
struct tag_text tag_stored(struct tag tag); /* `PC000123Y` */

int tag_compare(struct tag a, struct tag b); /* class, then serial: "lowest tags" */

/*
 * ISO/IEC 7064 MOD 37,36 check character over digits and letters (either case); separators are
 * passed over. Fills `check`; false where the code is empty or holds another character.
 */
bool tag_check_character(const char *code, char *check);

/* ------------------------------------------------------------------ what a scanner sends */

enum scan_reading {
	SCAN_NOTHING, /* only signs that a scanner sets around a code */
	SCAN_TAG,     /* a tag of ours, check character right */
	SCAN_OTHER,   /* no tag of ours: a place code, another tag, a badge, a job's number, a word */
	SCAN_MISREAD, /* the form of a tag of ours, but the check character disagrees */
	SCAN_DAMAGED, /* what a keyboard set to another layout makes of a tag of ours */
};

/* One scan as it was understood. */
struct scan {
	enum scan_reading reading;
	struct tag tag;  /* of SCAN_TAG; of SCAN_DAMAGED the only one that layouts make it of, serial 0
	                    where there are several */
	char code[100];  /* what was read, without identifier, FNC1 and suffix; SCAN_TAG: as stored;
	                    harmless to show */
	char wrong[200]; /* of SCAN_MISREAD and SCAN_DAMAGED: what is wrong, a phrase; else "" */
	char cure[300];  /* and a sentence that says what to do or to set on the scanner; else "" */
};

/*
 * Understands one line as a scanner that types sent it: AIM symbology identifier (ISO/IEC 15424),
 * FNC1 as GS (0x1D), GS1 element strings by the rules of the GS1 barcode syntax dictionary,
 * prefixes and suffixes of CR, LF, TAB and blank, either case, separators. Two or more scans run
 * together give as many, where every one of them is sure. Bytes may be any, NUL too. Returns how
 * many scans it gave, at most `most`; 0 for a line with none, then out[0] is SCAN_NOTHING. A line
 * with more than `most` gives one SCAN_MISREAD that says so, and none of them.
 */
#define SCANS_MOST 16
size_t scan_read(const char *bytes, size_t length, struct scan *out, size_t most);

/*
 * What a code that is none of ours may have been before a keyboard of another layout changed it,
 * `R1-3` of `R1ß3`: each once, at most `most`; returns how many. Nothing proves any of them but
 * that it is on record. And what to set then, a sentence.
 */
#define TAG_CODE_ROOM 80
size_t tag_codes_typed(const char *code, char (*out)[TAG_CODE_ROOM], size_t most);
extern const char tag_layout_cure[];

/* ------------------------------------------------------------------ action cards */

/* What an action card asks for; the numbers are the serials of its tags, printed and never
   changed. */
enum action {
	ACTION_HOME = 1,
	ACTION_HOLD = 2,
	ACTION_DIRTY = 3,
	ACTION_CLEANED = 4,
	ACTION_COUNT = 5,
	ACTION_UNDO = 6,
	ACTION_SHOW = 7,
	ACTION_YES = 8,
	ACTION_DONE = 9,
};
#define REASON_CARD_FIRST 101 /* reason cards have the serials from here upward */

/* An action card, or a card that tells the reason of a hold. Its tag is of the class AC. */
struct action_card {
	int64_t serial;
	const char *word;    /* `HOME`; NULL: a reason card */
	const char *reason;  /* `nicked`; NULL: an action card */
	const char *meaning; /* what it does, in a few words, as it stands on the card */
};

/* All of them, by serial. */
const struct action_card *action_cards(size_t *count);
/* The card of a serial of the class AC; NULL: there is none. */
const struct action_card *action_card_find(int64_t serial);
/* The action card of a word, in either case; NULL: there is none. */
const struct action_card *action_card_named(const char *word);

#endif
