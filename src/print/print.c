/* Tags into a file: planned, drawn in memory, then written whole. */
#include <errno.h>
#include <string.h>

#include "internal.h"

enum outcome file_form_of(const char *path, enum file_form *out, struct fault *fault)
{
	static const char *const endings[] = {".pdf", ".svg", ".png"};
	size_t length = strlen(path);
	for (size_t i = 0; i < COUNT_OF(endings); i++) {
		if (length > 4 && text_equal_fold(path + length - 4, endings[i])) {
			*out = (enum file_form)i;
			return OUTCOME_DONE;
		}
	}
	fault_set(fault, OUTCOME_BAD, "file has no ending that tells its form: %s", path);
	fault_hint(fault, "Name a file ending in .pdf, .svg or .png.");
	return OUTCOME_BAD;
}

enum outcome print_write(struct arena *arena, const char *path, const struct text *bytes,
                         struct fault *fault)
{
	struct whole_file file;
	enum outcome outcome = whole_file_open(arena, path, &file, fault);
	if (outcome != OUTCOME_DONE) {
		fault_hint(fault, "Name another.");
		return outcome;
	}
	bool whole = fwrite(bytes->bytes, 1, bytes->length, file.file) == bytes->length;
	return whole_file_close(arena, &file, whole ? 0 : errno, fault);
}

enum outcome print_tags(struct arena *arena, const struct print_request *request,
                        enum file_form form, const char *path, struct print_plan *out,
                        struct fault *fault)
{
	struct text bytes;
	enum outcome outcome = OUTCOME_DONE;
	if (request->plan != NULL) {
		*out = *request->plan;
	} else {
		outcome = print_plan(arena, request, out, fault);
	}
	if (outcome == OUTCOME_DONE && form != FILE_PDF && out->pages > 1) {
		fault_set(fault, OUTCOME_BAD, "file holds one page, these tags take %lld: %s",
		          (long long)out->pages, path);
		fault_hint(fault, "Name a file ending in .pdf, which holds them all.");
		return OUTCOME_BAD;
	}
	if (outcome == OUTCOME_DONE) {
		outcome =
			draw_tags(arena, request->stock, out->placed, request->count, form, &bytes, fault);
	}
	return outcome == OUTCOME_DONE ? print_write(arena, path, &bytes, fault) : outcome;
}
