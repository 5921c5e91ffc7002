/*
 * The arithmetic of the trade and the predicates of the check. Pure: values in, values out; no I/O,
 * clock or store. Where room is needed it comes from the caller's arena.
 */
#ifndef TOOTHRACK_TRADE_H
#define TOOTHRACK_TRADE_H

#include "toothrack/quantity.h"
#include "toothrack/tag.h"

/* ---------------------------------------------------------------- formulas */

/*
 * A repeat: a length around, either teeth x pitch (exact in its class) or a plain length.
 * Not known where `known` is false.
 */
struct repeat {
	bool known;
	bool toothed;
	int64_t teeth;
	struct pitch pitch;
	struct length plain;
};
/* No teeth, and a length that is not more than nothing, are no repeat: not known. */
struct repeat repeat_of_teeth(int64_t teeth, struct pitch pitch);
struct repeat repeat_of_length(struct length length);
struct real_length repeat_length(struct repeat repeat); /* 0 where not known */
/*
 * Same class: exactly; across classes, or where one is plain: within `match`. False where one is
 * not known.
 */
bool repeat_equal(struct repeat a, struct repeat b, struct length match);
/*
 * As repeat_equal for lengths of web a label: a / around_a against b / around_b. False for fewer
 * than one around.
 */
bool repeat_shares_equal(struct repeat a, int64_t around_a, struct repeat b, int64_t around_b,
                         struct length match);

/* Whole teeth whose repeat is nearest (the lower where two are as near); at least 1. */
int64_t teeth_nearest(struct real_length repeat, struct pitch pitch);

struct distortion {
	struct real_length k;
	double reduction_percent;
	double factor_percent;
	struct real_length flat_length;
};
/*
 * K method. A base as thick as the plate stretches nothing: K is 0. False where base > plate, or K
 * >= repeat.
 */
bool distortion_of(struct real_length repeat, struct length plate, struct length base,
                   struct distortion *out);

/* pitch diameter - 2 (plate + tape); the undercut is plate + tape */
struct real_length bare_diameter(struct repeat repeat, struct length plate, struct length tape);
/* bare + 2 (plate + tape) */
struct real_length printed_diameter(struct real_length bare, struct length plate,
                                    struct length tape);
/* pi x diameter */
struct real_length length_around(struct real_length diameter);

/* lanes x label + (lanes - 1) x gap + 2 x trim; gap is not used for one lane */
struct length web_needed(struct length label_across, int64_t number_across,
                         struct length gap_across, struct length trim);
/*
 * R / number_around - label_around; with fewer than one around there is no web for the label: -
 * label_around
 */
struct real_length gap_around(struct repeat repeat, int64_t number_around,
                              struct length label_around);
/*
 * gap_around within least..most, exact where the repeat is rational; a limit that is NULL is not
 * asked. A gap of less than nothing is never within (the labels would overlap), nor is any gap
 * where the repeat is not known or none is around.
 */
bool gap_around_within(struct repeat repeat, int64_t number_around, struct length label_around,
                       const struct length *least, const struct length *most);
/*
 * ceil((1 + overs) x ceil(quantity / (across x around))), in whole numbers throughout; INT64_MAX
 * where more, or where no label is across or around
 */
int64_t repeats_to_run(int64_t quantity, int64_t number_across, int64_t number_around,
                       struct percent overs);
/*
 * 1 - label area x across x around / (web x R), as a fraction of 1; 1 where there is no web or no
 * repeat
 */
double waste_of(struct length label_across, struct length label_around, int64_t number_across,
                int64_t number_around, struct length web, struct repeat repeat);

/* One choice of number_around for a label on a repeat. */
struct around {
	int64_t number_around;
	struct real_length gap;
};
/*
 * All number_around whose gap is in limits (as gap_around_within), most first; returns how many
 * there are, fills at most `room`.
 */
size_t around_choices(struct repeat repeat, struct length label_around,
                      const struct length *gap_least, const struct length *gap_most,
                      struct around *out, size_t room);

struct cell {
	struct real_length opening;
	double depth_to_opening_percent; /* 0 where no depth was given */
};
/* opening = 1/screen - wall; false where the wall leaves none. `depth` may be NULL. */
bool cell_of(struct screen screen, struct length wall, const struct length *depth,
             struct cell *out);
/* Dot diameter of a tone (0..1] on a plate screen: 2 sqrt(t / pi) x dot pitch. */
struct real_length dot_diameter(struct screen plate_screen, double tone);
/* anilox lines to plate lines; 0 where the plate has no screen */
double screen_ratio_of(struct screen anilox, struct screen plate);
/*
 * Volume of a roll from a drawdown: liquid / area (1 ul/cm2 = 10 cm3/m2). False where there is no
 * area, and past what fits.
 */
bool drawdown_of(struct liquid liquid, struct area area, struct volume *out);

/*
 * The length after which several repeats fall together again (least common multiple): teeth
 * exactly, plain lengths in whole nm. False for none, across classes, for a plain length beside
 * teeth (it is measured, not counted), and past what fits.
 */
bool repeats_together(const struct repeat *repeats, size_t count, struct real_length *out);

/* -------------------------------------------------- assignment and matching */

/* Costs compared part by part, the first difference decides. */
#define COST_PARTS 8
struct cost {
	int64_t part[COST_PARTS];
};
int cost_compare(struct cost a, struct cost b);
struct cost cost_add(struct cost a, struct cost b);

/*
 * Rows (stations) each take one item (a cylinder, a roll), and an item may need a companion (a
 * gear, a blade), each item and companion at most once. A row may stay without at `without_item`;
 * an item that needs a companion may go without at `without_companion` (of that item). Costs may be
 * negative in no part, nor above 1e16. Tables are row-major; an edge that is not allowed has its
 * `allowed` byte 0.
 */
struct assignment {
	size_t rows, items, companions;
	const uint8_t *item_allowed;       /* rows x items */
	const struct cost *item_cost;      /* rows x items */
	const uint8_t *companion_needed;   /* items; NULL: no item needs one */
	const uint8_t *companion_allowed;  /* items x companions */
	const struct cost *companion_cost; /* companions */
	struct cost without_item;
	struct cost without_companion;
	bool item_required; /* true: without_item is not open to a row (plain least-cost assignment);
	                       then rows <= items is needed */
};
#define ASSIGNED_NONE SIZE_MAX
struct assigned {
	size_t *item;      /* by row: its item, or ASSIGNED_NONE */
	size_t *companion; /* by row: the companion of its item, or ASSIGNED_NONE */
	struct cost total;
	bool complete; /* false: item_required, and there is no such assignment */
};
/*
 * The assignment of least total cost, by successive shortest augmenting paths (Dijkstra with
 * potentials over the layers row, item, companion). Source: R. Jonker, A. Volgenant, "A shortest
 * augmenting path algorithm for dense and sparse linear assignment problems", Computing 38 (1987)
 * 325-340; the layer of companions is our own. Arrays of `out` come from the arena.
 */
void assignment_solve(struct arena *arena, const struct assignment *problem, struct assigned *out);

/*
 * Maximum matching of rows to columns; `allowed` is rows x columns. Fills row_match (by row,
 * ASSIGNED_NONE where left out), returns its size.
 */
size_t matching_solve(struct arena *arena, size_t rows, size_t columns, const uint8_t *allowed,
                      size_t *row_match);
/*
 * For a maximum matching and a row it left out: the rows that compete (the row itself, every row
 * reached by alternating paths, and every other row left out that could use one of the same
 * columns) and all the columns they share: a violator of Hall's condition, more rows than columns.
 * Fills in_rows, in_columns (bytes 0/1). P. Hall, "On Representatives of Subsets", J. London Math.
 * Soc. 10 (1935) 26-30.
 */
void matching_hall_set(struct arena *arena, size_t rows, size_t columns, const uint8_t *allowed,
                       const size_t *row_match, size_t left_out, uint8_t *in_rows,
                       uint8_t *in_columns);

/* ------------------------------------------------------- what a shop limits */

/* What becomes of a blade or die whose life ends within the run. */
enum life_over { LIFE_OVER_CAUTION, LIFE_OVER_SHORT };

/*
 * The shop's practice limits, as `set` holds them; meaning and defaults stand in the table of
 * settings.
 */
struct limits {
	struct length buildup;
	struct length spread;
	struct length runout;
	struct length repeat_match;
	struct length blade_length_match;
	struct length die_match;
	struct length liner_match;
	struct percent volume_tolerance;
	struct percent volume_loss;
	struct percent volume_rise; /* that readings scatter by: more is a rise */
	struct percent trend_match; /* how far a roll's latest reading may lie from its trend */
	double screen_ratio;
	struct percent overs;
	struct duration turnaround; /* in open hours of the calendar */
	struct duration make_ready; /* from the end of one job to good labels of the next, open hours */
	struct calendar calendar;
	enum life_over life_over;
	int64_t regrinds;           /* of a solid die */
	struct duration recent;     /* over which a tool's recent use is taken */
	struct length clean_every;  /* web between two cleanings of a roll; 0: not asked */
	struct duration read_every; /* between two readings of a roll that runs; 0: not asked */
	struct percent uneven;      /* of a roll, left, centre, right */
	struct length life_steel, life_coated, life_polymer; /* of a blade, web; 0: not known */
	struct duration due_days;
	struct percent due_left; /* of a life, at which a tool without recent use is due */
	enum units units;        /* for texts */
};

/* ------------------------------------------------------- trend of wear */

/*
 * The Theil-Sen slope of y over x: the median of the slopes of all pairs that differ in x, of an
 * even count the mean of the two in the middle; H. Theil, Proc. Kon. Ned. Akad. v. Wetensch. A 53
 * (1950); P. K. Sen, JASA 63 (1968) 1379; the mean of two: R. O. Gilbert, Statistical Methods for
 * Environmental Pollution Monitoring, Van Nostrand Reinhold 1987. `least` and `most`: Sen's
 * interval, by the variance of Kendall's S counted down by ties; where so much is tied that none is
 * left (interval_known false), the least and the greatest slope of all. Not known where no two x
 * differ. Values in whole numbers, so that ties are ties; no two x further apart than 2^63, no y
 * further than 2^60 from 0. About O(n log n) time; room from the arena.
 */
struct sen {
	bool known, interval_known;
	double slope, least, most;
};
struct sen sen_of(struct arena *arena, const int64_t *x, const int64_t *y, size_t count,
                  double confidence);

/*
 * Kendall's S (pairs that rise less pairs that fall), tau-b, and the probability, two-sided, of one
 * so far from 0 where there is no trend: M. G. Kendall, Rank Correlation Methods, 4th ed., Griffin
 * 1970; H. B. Mann, Econometrica 13 (1945) 245. Exact where nothing is tied and there are at most
 * 33 (or at most one pair stands otherwise than all the rest), else by the normal distribution. Not
 * known, p 1, where all x or all y are equal.
 */
struct kendall {
	bool known;
	int64_t s;
	double tau, p;
};
struct kendall kendall_of(struct arena *arena, const int64_t *x, const int64_t *y, size_t count);

/*
 * A reading that speaks of wear: taken after cleaning, with the web that the roll had run by then
 * since its engraving.
 */
struct trend_point {
	struct length run;
	struct volume volume;
};

/*
 * How far readings scatter about the lines of their rolls: as a share of the volume (0.02 is 2 %),
 * and the degrees of freedom behind that. 0 freedom: not known.
 */
struct scatter {
	double share;
	double freedom;
};

enum trend_says {
	TREND_TOO_FEW, /* readings, or all at one run: nothing is told */
	TREND_NONE,    /* they show no trend */
	TREND_FALLS,   /* told of a roll whose volume stays as it is one time in twenty */
	TREND_RISES,   /* likewise */
};
#define TREND_POINTS_LEAST 3

/*
 * The trend of a roll's volume over the web that it has run. Volumes in cm3/m2, runs in millions of
 * metres. `slope`: Theil-Sen; `slope_least`, `slope_most`: Sen's interval at 90 %. `at_zero`: of
 * the line at run 0, the median of volume - slope x run. Kendall's S, tau-b and p: as kendall_of.
 *
 * It falls or rises where p is at most 10 %, or where the slope is further from 0 than its scatter
 * does in 5 % (2.5 % one way) by Student's t: Kendall's test cannot tell of three readings, and
 * does not know how well a shop reads.
 */
struct trend {
	enum trend_says says;
	size_t count; /* readings in it */
	double slope, slope_least, slope_most;
	double at_zero;
	double mean_run, squares; /* of the runs: mean, and sum of squares about it */
	struct scatter own;       /* of these readings about the line of least squares */
	struct scatter used;      /* by the range: moderated by that of the shop's other rolls */
	int64_t kendall_s;
	double tau, p;
};
/*
 * Works out the trend; points in any order. `shop`: how readings by that method scatter on the
 * shop's rolls; NULL or 0 freedom: not known. Room comes from the arena; O(n log n) time.
 */
void trend_of(struct arena *arena, const struct trend_point *points, size_t count,
              const struct scatter *shop, struct trend *out);
/*
 * What the shop's rolls scatter by, of the scatter of each (`own`; those without freedom or without
 * scatter do not count). Few rolls, or such that differ much, tell little: less freedom; fewer than
 * three, none. G. K. Smyth, Stat. Appl. Genet. Mol. Biol. 3 (2004) article 3.
 */
struct scatter scatter_of_shop(const struct scatter *each, size_t count);
/* Is there a trend that speaks of wear (TREND_FALLS), so that check and ahead count by it? */
bool trend_forecasts(const struct trend *trend);
/*
 * The line at a run, never below nothing; and the 90 % band of the line there, in cm3/m2: as wide
 * as it must be for the ranges of trend_reaches, which are where it meets the limit. 0 where there
 * are too few readings.
 */
double trend_at(const struct trend *trend, struct length run);
void trend_band_at(const struct trend *trend, struct length run, double *least, double *most);

/*
 * Does a reading at a run lie within `match` of the line there? Where the latest one does not, the
 * trend is no longer what the roll does, whatever the readings before told.
 */
bool trend_fits(const struct trend *trend, struct length run, struct volume volume,
                struct percent match);

/* When a volume is reached, in web run since the engraving. */
struct trend_reach {
	bool least_known, most_known; /* false: no such end of the range */
	struct length least, most;    /* the truth lies between with 90 % */
	bool line_known;
	struct length line; /* where the line itself reaches it */
};
/*
 * When the wear that the trend tells brings the roll down to `limit`: a range that holds the truth
 * nine times in ten. `least` never lies before run 0; it may lie before the run on record, where
 * the limit may be reached already. An end that cannot be told is not known: `most` where the slope
 * is not clearly below 0, or three readings stand alone, with nothing known of the shop's scatter;
 * the range then has no end, and counts as not given, but `least` may still be told: not before.
 */
void trend_reaches(const struct trend *trend, struct volume limit, struct trend_reach *out);

/* Share of a volume when new that is left at the shop's limit of loss. */
struct volume volume_at_limit(struct volume when_new, const struct limits *limits);
/* (largest - smallest) / mean of left, centre and right, in whole 1e-6. */
struct percent across_unevenness(struct across across);

/*
 * The volumes that rolls of a screen have when new, both included. Harper Corporation of America,
 * anilox tables: least and most at 360, 500 and 1000 lpi, drawn out between them on paper that is
 * logarithmic both ways; coarser and finer all that the tables give for any work done with such a
 * screen, from 180 to 1200 lpi; else not known.
 */
struct volume_band {
	bool known;
	struct volume least, most;
};
struct volume_band volume_band_of(struct screen screen);

/* A part of the face that is damaged, from the edge that face_from counts from. */
struct damage_band {
	struct length from, to;
};
/*
 * The widest part of a face that no damage touches; false where none is left. Bands in any order,
 * overlapping or past the edges; of two as wide the one nearer to 0.
 */
bool face_left(struct length face, const struct damage_band *bands, size_t count,
               struct length *from, struct length *to);

/* When so much web will have been run, at a use of so much a day. False: the use is 0. */
bool days_of(struct length web, struct length per_day, double *days);

/* ------------------------------------------------------- lifting */

enum coupling { COUPLING_GOOD, COUPLING_FAIR, COUPLING_POOR };
struct lift {
	struct weight weight;
	struct length horizontal, vertical, travel;
	struct angle asymmetry; /* either way: its size counts */
	enum coupling coupling;
};
/*
 * What each part of a lift leaves of the 23 kg that the equation begins with: 1 all, 0 nothing,
 * where it is past what the equation covers (horizontal past 63 cm, vertical past 175 cm, travel
 * past 175 cm, asymmetry past 135 degrees). Source as for lift_of.
 */
struct lift_multipliers {
	double horizontal, vertical, travel, asymmetry, coupling;
};
void lift_multipliers_of(const struct lift *lift, struct lift_multipliers *out);
/*
 * Revised NIOSH lifting equation: recommended weight limit and lifting index (weight / limit). For
 * at most one lift in five minutes over at most an hour. T. R. Waters, V. Putz-Anderson, A. Garg,
 * Applications Manual for the Revised NIOSH Lifting Equation, DHHS (NIOSH) 94-110, revised 2021.
 * The limit is 0, and the index not known (false), where a distance is past what the equation
 * covers.
 */
bool lift_of(const struct lift *lift, struct weight *limit, double *index);

/* ------------------------------------------------- tools as predicates see them */

struct known_length {
	bool known;
	struct length value;
};
struct known_screen {
	bool known;
	struct screen value;
};
struct known_volume {
	bool known;
	struct volume value;
};
struct known_angle {
	bool known;
	struct angle value;
};
struct known_count {
	bool known;
	int64_t value;
};
struct known_moment {
	bool known;
	struct moment value;
};
struct known_percent {
	bool known;
	struct percent value;
};
struct known_speed {
	bool known;
	struct speed value;
};
struct known_duration {
	bool known;
	struct duration value;
};

enum condition { CONDITION_READY, CONDITION_HOLD, CONDITION_SCRAPPED };
enum place_sort { SORT_STORE, SORT_PRESS, SORT_CART, SORT_WASH, SORT_SUPPLIER, SORT_LOST };

/* A time when a tool, or a press, is another job's: running there, booked for it, or taken for it.
 */
struct promise {
	const char *job;
	struct known_moment from;  /* not known: since ever */
	struct known_moment until; /* not known: without end */
	bool running;              /* of a press: the job runs there now */
	const char *over;          /* of a tool out for it: `finished` or `cancelled`; else NULL */
};

/* What `there` needs of any tool. Texts are the caller's and never NULL but where said. */
struct tool {
	struct tag tag;
	int64_t id;
	const char *fit; /* `a,b`, lower case; NULL: not known */
	enum condition condition;
	const char *condition_text; /* reason, or NULL */
	struct known_moment condition_since;
	bool place_known;
	const char *place; /* code */
	enum place_sort sort;
	int64_t press;                        /* id of the press the place is part of, 0 for none */
	const char *press_code;               /* or NULL */
	const struct promise *press_promises; /* jobs running, or with tools booked, on that press, the
	                                         asking job left out */
	size_t press_promise_count;
	struct known_moment back;
	const struct promise *promises; /* other jobs it is booked for or taken by */
	size_t promise_count;
	const char *carries; /* number of the job whose plates are on it, or NULL */
	struct known_length face, face_from, face_to;
	struct known_length run; /* m of web */
};

/* A roll's readings, boiled down: what "volume now" rests on. */
struct roll_reading {
	struct known_volume now;  /* latest after cleaning at or after engraved */
	bool read_after_run_only; /* has readings, none of them after cleaning */
	struct known_moment moment;
};

enum cylinder_drive { DRIVE_UNKNOWN, DRIVE_GEARED, DRIVE_DEMOUNTABLE, DRIVE_GEARLESS };

struct cylinder {
	struct tool tool;
	struct repeat own; /* teeth x pitch, or a gearless one's repeat */
	enum cylinder_drive drive;
	struct known_length undercut, diameter, runout, bore;
	struct known_angle pressure_angle, helix;
};
struct gear {
	struct tool tool;
	struct repeat own;
	struct known_length bore;
	struct known_angle pressure_angle, helix;
};
/*
 * What its trend tells of a roll, where there is one that forecasts: the line at the run on record
 * (no less than it had run when it was read), and its slope, in 1e-6 cm3/m2 and 1e-6 cm3/m2 a metre
 * (below 0).
 */
struct roll_forecast {
	bool known;
	double now, slope;
};
struct anilox {
	struct tool tool;
	struct known_screen line_screen;
	struct known_volume volume; /* when new */
	struct roll_reading reading;
	struct roll_forecast forecast;
};
struct blade {
	struct tool tool;
	struct known_length length, life;
};
enum die_build { BUILD_UNKNOWN, BUILD_FLEXIBLE, BUILD_SOLID };
struct die {
	struct tool tool;
	enum die_build build;
	const char *cut;   /* kiss, through, perforation, back; NULL: not known */
	const char *shape; /* or NULL */
	struct repeat own;
	struct known_count number_across, number_around;
	struct known_length label_across, label_around, gap_across, corner, liner_caliper, die_gap;
	struct known_count life; /* revolutions */
};
struct magnetic_cylinder {
	struct tool tool;
	struct repeat own;
	struct known_length die_gap;
};

/* The press asked. */
struct press {
	int64_t id;
	const char *code;
	bool drive_known, geared;
	struct known_length web, repeat_min, repeat_max;
	const struct pitch *pitches;
	size_t pitch_count;
	struct known_angle pressure_angle, helix;
	const char *fit;          /* NULL: takes everything */
	struct known_speed speed; /* web a minute */
};

/* The job as printed at one repeat: what the station rules compare with. */
struct layout {
	const char *job;
	struct repeat repeat;
	struct known_count number_around, number_across;
	struct known_length label_across, label_around, gap_across, gap_around_min, gap_around_max,
		corner, trim, web, liner_caliper;
	const char *shape; /* NULL: not asked */
	struct known_length web_needed, printed_width;
	struct known_length run; /* run_m; not known where quantity or the layout is not */
};

/*
 * Fills web_needed, printed_width and run from the other figures; not known where one of those
 * needed is not.
 */
void layout_complete(struct layout *layout, struct known_count quantity, struct percent overs);

/*
 * No run of the job is longer, at whatever repeat its labels stand with gaps in their limits, nor
 * at its own; 0 where it has no run. Not known where no limit bounds it.
 */
struct known_length layout_run_most(const struct layout *layout, struct known_count quantity,
                                    struct percent overs);

/* One station of the job, as asked. */
struct station {
	int64_t number;
	const char *ink;     /* or NULL */
	const char *process; /* flexo, cold_foil, hot_foil, rotary_screen */
	bool registered;
	struct known_length plate, base, tape;
	const char *plates; /* none, ordered, ready; NULL: not on record */
	struct known_screen screen_min, screen_max, plate_screen;
	struct known_volume volume;
	struct known_percent volume_tolerance; /* not known: the shop's */
};
struct cut {
	int64_t number;
	const char *kind;
	const char *die; /* the named die's tag as shown, or NULL */
	int64_t die_id;  /* 0: none named */
};

/*
 * How long a job holds a press, in open hours: make-ready, then its run at the press's speed, up to
 * the whole minute. Not known where run or speed is not. Source: PNEAC, make-ready runs from the
 * end of one job to acceptable quality on the next; run by speed is arithmetic.
 */
struct known_duration job_duration(const struct layout *layout, const struct press *press,
                                   const struct limits *limits);

/* ------------------------------------------------------------- the predicates */

/* How well a tool answers a need; the order is that of preference reversed. */
enum suits {
	SUITS_YES,
	SUITS_NOTED,    /* yes, with something not on record */
	SUITS_DOUBTFUL, /* last choice, at caution */
	SUITS_NOT,
};

/* What speaks against a tool, or is to be said of it: one remark a rule. */
struct remark {
	enum suits level;
	char text[168];            /* `face 300mm, 330.2mm needed` */
	struct known_moment until; /* when it ceases, where that is known */
};
#define REMARKS_MOST 12
struct remarks {
	struct remark items[REMARKS_MOST];
	size_t count;
};
/* Adds a remark (`remarks` may be NULL) and returns the worse of `so_far` and `level`. */
enum suits remark_add(struct remarks *remarks, enum suits so_far, enum suits level,
                      const char *format, ...) __attribute__((format(printf, 4, 5)));

/* A time asked: from..until, both given; now, for what is overdue. */
struct span {
	struct moment from, until, now;
};

/*
 * "Is a tool there?" of the check, rules 1 to 4; the first that fails is the one remark. Returns
 * SUITS_YES, SUITS_DOUBTFUL (overdue at the supplier, or plates of another job still mounted: a
 * remark each) or SUITS_NOT. `carries_counts` for cylinders. `remarks` may be NULL.
 */
enum suits tool_there(const struct tool *tool, const char *job, int64_t press, struct span span,
                      const struct limits *limits, bool carries_counts, struct remarks *remarks);

/*
 * Is the press free: does no other job run, or hold a promise on it, over that time? SUITS_YES,
 * SUITS_DOUBTFUL (one runs there whose end is not known, or has passed by `now`) or SUITS_NOT, with
 * until when: a remark each. Spans that touch do not overlap; make-ready is part of a job's own
 * time. `press` is its code; `remarks` may be NULL.
 */
enum suits press_free(const struct promise *promises, size_t count, const char *press,
                      struct span span, struct remarks *remarks);
/* When a tool is free again after a promise: its turnaround later, in open hours. */
struct moment promise_free(struct moment until, const struct limits *limits);

/* Rule 1 of them alone: SUITS_YES where it is ready, else SUITS_NOT with the reason. */
enum suits tool_condition_suits(const struct tool *tool, struct remarks *remarks);

/* The usable face: face_to - face_from where part of it is damaged, else face. */
struct known_length usable_face(const struct tool *tool);

/* A tool's fit against the press's; a press without fit takes everything. */
enum suits fit_suits(const char *tool_fit, const char *press_fit, struct remarks *remarks);

/*
 * "Does it suit?", one row of the table each. They do not look whether the tool is there. `remarks`
 * may be NULL.
 */
enum suits cylinder_suits(const struct cylinder *cylinder, const struct station *station,
                          const struct layout *layout, const struct press *press,
                          const struct limits *limits, struct remarks *remarks);
/* Does this cylinder, as used on this press, need a loose gear? */
bool cylinder_needs_gear(const struct cylinder *cylinder, const struct press *press);
enum suits gear_suits(const struct gear *gear, const struct cylinder *cylinder,
                      const struct press *press, const struct limits *limits,
                      struct remarks *remarks);
enum suits anilox_suits(const struct anilox *anilox, const struct station *station,
                        const struct layout *layout, const struct press *press,
                        const struct limits *limits, struct remarks *remarks);
enum suits blade_suits(const struct blade *blade, const struct anilox *anilox,
                       const struct layout *layout, const struct press *press,
                       const struct limits *limits, struct remarks *remarks);
/* Does the die take as much web a label as the print, both known? Of a cut it asks nothing else. */
bool die_keeps_step(const struct die *die, const struct layout *layout,
                    const struct limits *limits);
/* `named`: the die that the cut names; a special shape is served by a named die only. */
enum suits die_suits(const struct die *die, const struct cut *cut, bool named,
                     const struct layout *layout, const struct press *press,
                     const struct limits *limits, struct remarks *remarks);
enum suits magnetic_cylinder_suits(const struct magnetic_cylinder *cylinder, const struct die *die,
                                   const struct press *press, const struct limits *limits,
                                   struct remarks *remarks);
/* The needs `web` and `repeat` of the job itself: SUITS_YES or SUITS_NOT. */
enum suits web_suits(const struct layout *layout, const struct press *press,
                     const struct limits *limits, struct remarks *remarks);
enum suits repeat_suits(const struct layout *layout, const struct press *press,
                        const struct limits *limits, struct remarks *remarks);
/* `plates` of a station: SUITS_YES, SUITS_NOTED or SUITS_DOUBTFUL. */
enum suits plates_suit(const struct station *station, struct remarks *remarks);

/*
 * Could a press take the tool, whatever the job? What the predicates above ask of tool and press
 * alone: fit, length around, drive and pitch. What is not known is SUITS_DOUBTFUL, not SUITS_NOT.
 */
enum suits press_takes_cylinder(const struct cylinder *cylinder, const struct press *press,
                                const struct limits *limits, struct remarks *remarks);
enum suits press_takes_gear(const struct gear *gear, const struct press *press,
                            struct remarks *remarks);
/* A die, or the magnetic cylinder that is to carry one: `own` is its length around. */
enum suits press_takes_die(const struct tool *tool, struct repeat own, const struct press *press,
                           const struct limits *limits, struct remarks *remarks);
/* Any other tool: its fit alone. */
enum suits press_takes_fit(const struct tool *tool, const struct press *press,
                           struct remarks *remarks);

/*
 * Volume at the end of a run of so much web (not known: none, as of no job): what the roll's trend
 * forecasts there, in whole 1e-6 cm3/m2 and never below nothing; where no trend forecasts the
 * latest reading after cleaning, else the volume when new. Not known where there is none of these.
 */
struct known_volume volume_at_end(const struct anilox *anilox, struct known_length run);
/*
 * True where a roll was never read since it was engraved (readings after a run do not count), so
 * that its volume when new counts.
 */
bool volume_never_read(const struct anilox *anilox);
/*
 * abs(volume at end - asked)/asked in tenths of a percent, rounded half up; unknown 1000; nothing
 * asked 0.
 */
int64_t volume_deviation(const struct anilox *anilox, const struct station *station,
                         struct known_length run);
/*
 * The volumes at the end of the run that a station takes, to within two steps outside; all where it
 * asks none.
 */
void volumes_taken(const struct station *station, const struct limits *limits, struct volume *least,
                   struct volume *most);
/*
 * Has it lost more than volume_loss since new, by its latest reading? SUITS_DOUBTFUL, with the
 * figures, or SUITS_YES. Whatever job: anilox_suits asks the same of the end of its run.
 */
enum suits volume_loss_suits(const struct anilox *anilox, const struct limits *limits,
                             struct remarks *remarks);
/*
 * The same where it was read more than volume_loss above its volume when new, which no roll comes
 * to by running: a slip of the reading, its unit perhaps.
 */
enum suits volume_gain_suits(const struct anilox *anilox, const struct limits *limits,
                             struct remarks *remarks);
/*
 * Share of the volume when new that is gone by its latest reading; not known where one of the two
 * is not.
 */
struct known_percent volume_lost(const struct anilox *anilox);
/* Runout against the limit: SUITS_YES, SUITS_NOTED (not known) or SUITS_NOT. */
enum suits runout_suits(const struct cylinder *cylinder, const struct limits *limits,
                        struct remarks *remarks);
/*
 * What is left of a life, `run` not known counting as none; less than nothing where it is over. Of
 * a die in whole revolutions, those begun counted as used; false where not known.
 */
struct known_length blade_life_left(const struct blade *blade);
bool die_life_left(const struct die *die, int64_t *revolutions);
/*
 * Plate and tape that a cylinder takes, on the radius: half of what its measured diameter lacks to
 * the pitch diameter, else its undercut. False where neither can be told.
 */
bool buildup_taken(const struct cylinder *cylinder, struct real_length *out);
/* Whole revolutions that a length of web makes; false where the length around is not known. */
bool revolutions_of(struct length web, struct repeat own, int64_t *out);
/*
 * Printed diameter of a cylinder at a station; false where neither diameter nor undercut, or plate
 * or tape, is known.
 */
bool printed_diameter_of(const struct cylinder *cylinder, const struct station *station,
                         struct real_length *out);

#endif
