/* Text by pango, in DejaVu Sans: in PDF and SVG it stays text. */
#include <math.h>
#include <string.h>

#include "libraries.h"

/* Sizes of text go up by a twentieth, so that a run needs few fonts. */
#define FONT_FAMILY "DejaVu Sans"
#define FONT_LEAST 2.0 /* em, dots */
#define FONT_STEP 1.05
#define LETTER_EM 200.   /* at which a letter is looked at */
#define LINE_TO_EM 1.164 /* of DejaVu Sans: ascent 0.928, descent 0.236 */
#define ASCENT_TO_EM 0.928
#define CAPITALS_TO_EM 0.729
/* So many marks may stand over and under one letter, or they would run through the symbol: common
   practice, no source. */
#define MARKS_MOST 3

static double font_em(size_t step)
{
	return FONT_LEAST * pow(FONT_STEP, (double)step);
}

/* The largest that is no larger. */
static size_t font_step(double em)
{
	double step = floor(log(em / FONT_LEAST) / log(FONT_STEP) + 1e-9);
	return step < 0 ? 0 : step >= FONT_STEPS ? FONT_STEPS - 1 : (size_t)step;
}

static struct font *find_font(struct pen *pen, size_t step)
{
	struct font *font = &pen->fonts[step];
	if (font->description == NULL) {
		font->description = lib.pango_font_description_new();
		lib.pango_font_description_set_family(font->description, FONT_FAMILY);
		lib.pango_font_description_set_absolute_size(font->description,
		                                             font_em(step) * PANGO_SCALE);
		lib.pango_context_set_font_description(pen->context, font->description);
		PangoAttrList *attributes = lib.pango_attr_list_new();
		GList *items = lib.pango_itemize(pen->context, "A", 0, 1, attributes, NULL);
		font->item = items->data;
		lib.g_list_free(items);
		lib.pango_attr_list_unref(attributes);
		font->batch.text = text_start(pen->arena);
	}
	return font;
}

/*
 * The next sign of plain text: of ASCII or Latin-1, the soft hyphen excepted, which is not always
 * seen. Moves on behind it; -1 where it is another.
 */
static int next_sign(const char **text)
{
	const unsigned char *bytes = (const unsigned char *)*text;
	if (bytes[0] >= ' ' && bytes[0] <= '~') {
		*text += 1;
		return bytes[0];
	}
	int sign = (bytes[0] & 0x03) << 6 | (bytes[1] & 0x3f);
	if ((bytes[0] != 0xc2 && bytes[0] != 0xc3) || sign < 0xa0 || sign == 0xad) {
		return -1;
	}
	*text += 2;
	return sign;
}

static bool is_plain(const char *text)
{
	while (*text != '\0') {
		if (next_sign(&text) < 0) {
			return false;
		}
	}
	return true;
}

/*
 * Plain text is set letter by letter, without kerning: a run has thousands of short lines, and to
 * shape each takes as long as all the rest. What a letter is like is asked once.
 */
static const struct letter *find_letter(struct pen *pen, const char **text)
{
	const char *begin = *text;
	int sign = next_sign(text);
	struct letter *letter = &pen->letters[sign];
	if (!letter->known) {
		size_t step = font_step(LETTER_EM);
		const struct font *font = find_font(pen, step);
		lib.pango_shape(begin, (int)(*text - begin), &font->item->analysis, pen->glyphs);
		int width = lib.pango_glyph_string_get_width(pen->glyphs);
		letter->known = true;
		letter->glyph = pen->glyphs->glyphs[0].glyph;
		letter->advance = (double)width / PANGO_SCALE / font_em(step);
	}
	return letter;
}

/* How wide it is in dots. Other than plain text is set by that, and show_text then shows it. */
static double set_text(struct pen *pen, size_t step, const char *text)
{
	double width = 0;
	if (is_plain(text)) {
		while (*text != '\0') {
			width += find_letter(pen, &text)->advance;
		}
		return width * font_em(step);
	}
	int size = 0;
	lib.pango_layout_set_font_description(pen->layout, find_font(pen, step)->description);
	lib.pango_layout_set_text(pen->layout, text, -1);
	lib.pango_layout_get_size(pen->layout, &size, NULL);
	return (double)size / PANGO_SCALE;
}

static void add_escaped(struct text *out, const char *text)
{
	for (; *text != '\0'; text++) {
		switch (*text) {
		case '&':
			text_add(out, "&amp;");
			break;
		case '<':
			text_add(out, "&lt;");
			break;
		case '>': /* or ]]> would end what never began: the same, 2.4 */
			text_add(out, "&gt;");
			break;
		default:
			text_add_bytes(out, text, 1);
		}
	}
}

/* Plain text, into the font's batch. */
static void add_text(struct pen *pen, size_t step, const char *text, double x, double baseline)
{
	struct font *font = find_font(pen, step);
	double em = font_em(step);
	text_add(&font->batch.text, text);
	while (*text != '\0') {
		const char *begin = text;
		const struct letter *letter = find_letter(pen, &text);
		batch_add_glyph(pen, &font->batch, letter->glyph, x, baseline);
		batch_add_cluster(pen, &font->batch, (int)(text - begin), 1);
		x += letter->advance * em;
	}
}

static void show_text(struct pen *pen, size_t step, const char *text, double x, double baseline,
                      double width)
{
	if (pen->form == FILE_SVG) {
		text_add_format(
			&pen->svg,
			"<text x=\"%.2f\" y=\"%.2f\" font-family=\"" FONT_FAMILY
			"\" font-size=\"%.2f\" textLength=\"%.2f\" lengthAdjust=\"spacingAndGlyphs\">",
			x, baseline, font_em(step), width);
		add_escaped(&pen->svg, text);
		text_add(&pen->svg, "</text>\n");
		return;
	}
	if (is_plain(text)) {
		add_text(pen, step, text, x, baseline);
	} else {
		lib.cairo_move_to(pen->cairo, x, baseline);
		lib.pango_cairo_show_layout_line(pen->cairo,
		                                 lib.pango_layout_get_line_readonly(pen->layout, 0));
	}
}

/* Leaves so many marks over each letter; what is not seen between them does not end their row. */
static void thin_marks(char *text)
{
	size_t marks = 0;
	char *to = text;
	while (*text != '\0') {
		char *next = lib.g_utf8_find_next_char(text, NULL);
		GUnicodeType type = lib.g_unichar_type(lib.g_utf8_get_char(text));
		bool mark = type == G_UNICODE_NON_SPACING_MARK || type == G_UNICODE_ENCLOSING_MARK;
		marks = mark ? marks + 1 : type == G_UNICODE_FORMAT ? marks : 0;
		if (!mark || marks <= MARKS_MOST) {
			memmove(to, text, (size_t)(next - text));
			to += next - text;
		}
		text = next;
	}
	*to = '\0';
}

/*
 * Those that Unicode keeps for no character (The Unicode Standard, "Noncharacters"): cairo refuses
 * a whole page for one, and two of them are in no XML (2.2 of its recommendation, W3C, XML 1.0,
 * fifth edition).
 */
static void mask_noncharacters(char *text)
{
	char *to = text;
	while (*text != '\0') {
		char *next = lib.g_utf8_find_next_char(text, NULL);
		gunichar code = lib.g_utf8_get_char(text);
		if ((code >= 0xfdd0 && code <= 0xfdef) || (code & 0xfffe) == 0xfffe) {
			*to++ = '?';
		} else {
			memmove(to, text, (size_t)(next - text));
			to += next - text;
		}
		text = next;
	}
	*to = '\0';
}

/* One line of text from what a record holds: no line ends, no broken characters, no towers of
   marks. */
static char *clean_text(struct pen *pen, const char *text)
{
	char *clean = arena_copy(pen->arena, text);
	bool whole = lib.g_utf8_validate(text, -1, NULL) != 0;
	for (char *c = clean; *c != '\0'; c++) {
		unsigned char byte = (unsigned char)*c;
		*c = byte < ' ' || byte == 0x7f ? ' ' : byte >= 0x80 && !whole ? '?' : *c;
	}
	if (!is_plain(clean)) {
		mask_noncharacters(clean);
		thin_marks(clean);
	}
	return clean;
}

/* So many bytes of it at most, whole characters, and an ellipsis behind them. */
static char *cut_text(struct pen *pen, const char *text, size_t length)
{
	while (length > 0 && ((unsigned char)text[length] & 0xc0) == 0x80) {
		length--;
	}
	while (length > 0 && text[length - 1] == ' ') {
		length--;
	}
	return arena_format(pen->arena, "%.*s\u2026", (int)length, text);
}

/* The smallest whose capitals a person still reads: rather cut the line than go below. */
static size_t least_step(const struct stock *stock)
{
	double least = CAPITALS_LEAST_UM / 25400. * (double)stock->dots_per_inch / CAPITALS_TO_EM;
	size_t step = font_step(least);
	return font_em(step) < least * (1 - 1e-9) ? step + 1 : step;
}

/* As much of it as is no wider than the box. Halved, for a name may have thousands of letters. */
static void cut_line(struct pen *pen, double box_width, struct set_line *set)
{
	const char *whole = set->text;
	size_t fits = 0, over = strlen(whole);
	while (over - fits > 1) {
		size_t middle = (fits + over) / 2;
		if (set_text(pen, set->step, cut_text(pen, whole, middle)) <= box_width) {
			fits = middle;
		} else {
			over = middle;
		}
	}
	set->text = cut_text(pen, whole, fits);
	set->width = set_text(pen, set->step, set->text);
	set->cut = true;
}

/* As large as its box; smaller where it would be too wide; cut only where it must be, if at all. */
static struct set_line set_line(struct pen *pen, const struct placed *placed, size_t line)
{
	const struct box *box = &placed->layout.lines[line];
	bool may_cut = !line_holds_tag(&pen->stock->lines[line]);
	size_t least = may_cut ? least_step(pen->stock) : 0;
	struct set_line set = {.text = clean_text(pen, placed->face->lines[line]),
	                       .step = font_step((double)box->height / LINE_TO_EM)};
	set.width = set_text(pen, set.step, set.text);
	while (set.width > (double)box->width && set.step > least) {
		size_t smaller = font_step(font_em(set.step) * (double)box->width / set.width);
		set.step = smaller >= set.step ? set.step - 1 : smaller < least ? least : smaller;
		set.width = set_text(pen, set.step, set.text);
	}
	if (set.width > (double)box->width) {
		cut_line(pen, (double)box->width, &set);
	}
	return set;
}

size_t text_step(double em)
{
	return font_step(em);
}

double text_em(size_t step)
{
	return font_em(step);
}

struct set_line text_set(struct pen *pen, size_t step, const char *text, double width)
{
	struct set_line set = {.text = clean_text(pen, text), .step = step};
	set.width = set_text(pen, step, set.text);
	if (set.width > width) {
		cut_line(pen, width, &set);
	}
	return set;
}

void text_put(struct pen *pen, const struct set_line *set, double x, double baseline)
{
	set_text(pen, set->step, set->text); /* what is not plain is shown as it was set last */
	show_text(pen, set->step, set->text, x, baseline, set->width);
}

void text_draw_line(struct pen *pen, const struct placed *placed, size_t line)
{
	const struct box *box = &placed->layout.lines[line];
	struct set_line set = set_line(pen, placed, line);
	double em = font_em(set.step);
	double free_across = placed->layout.centred ? ((double)box->width - set.width) / 2 : 0;
	double baseline = ((double)box->height - em * LINE_TO_EM) / 2 + em * ASCENT_TO_EM;
	show_text(pen, set.step, set.text, (double)(placed->x + box->x) + free_across,
	          (double)(placed->y + box->y) + baseline, set.width);
}

/* No letter of plain text is wider than its em: what is short enough need not be measured. */
bool text_may_be_cut(const struct stock *stock, const struct placed *placed, size_t line)
{
	const struct box *box = &placed->layout.lines[line];
	if (box->height == 0 || line_holds_tag(&stock->lines[line])) {
		return false;
	}
	const char *text = placed->face->lines[line];
	double widest = font_em(least_step(stock)) * (double)strlen(text);
	return !is_plain(text) || widest > (double)box->width;
}

const char *text_cut_line(struct pen *pen, const struct placed *placed, size_t line)
{
	struct set_line set = set_line(pen, placed, line);
	return set.cut ? set.text : NULL;
}

/* That the font is the one meant: another's letters may be wider than the layout allows for. */
enum outcome text_begin(struct pen *pen, struct fault *fault)
{
	const struct font *font = find_font(pen, font_step(20));
	PangoFont *found = font->item->analysis.font;
	PangoFontDescription *description = found != NULL ? lib.pango_font_describe(found) : NULL;
	bool right = description != NULL &&
	             strcmp(lib.pango_font_description_get_family(description), FONT_FAMILY) == 0;
	if (description != NULL) {
		lib.pango_font_description_free(description);
	}
	if (!right) {
		fault_set(fault, OUTCOME_STORE, "font is missing: " FONT_FAMILY);
		fault_hint(fault, "Have fonts-dejavu-core installed, such as by apt-get install "
		                  "fonts-dejavu-core.");
		return OUTCOME_STORE;
	}
	return OUTCOME_DONE;
}

void text_show(struct pen *pen)
{
	for (size_t i = 0; i < FONT_STEPS; i++) {
		if (pen->fonts[i].batch.count > 0) {
			PangoFont *font = pen->fonts[i].item->analysis.font;
			lib.cairo_set_scaled_font(pen->cairo,
			                          lib.pango_cairo_font_get_scaled_font((PangoCairoFont *)font));
			batch_show(pen, &pen->fonts[i].batch);
		}
	}
}

void text_free(struct pen *pen)
{
	for (size_t i = 0; i < FONT_STEPS; i++) {
		if (pen->fonts[i].description != NULL) {
			lib.pango_item_free(pen->fonts[i].item);
			lib.pango_font_description_free(pen->fonts[i].description);
		}
	}
}
