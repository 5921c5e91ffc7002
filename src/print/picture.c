/* SVG and PNG as cairo wrote them, made to tell how large they are. */
#include <assert.h>
#include <string.h>

#include "draw.h"

/* The value of an attribute of the first element: where it begins, and its length. */
static const char *find_value(const char *svg, const char *attribute, size_t *length)
{
	const char *found = strstr(svg, attribute);
	assert(found != NULL);
	found += strlen(attribute);
	*length = strcspn(found, "\"");
	return found;
}

struct text svg_with_text(struct arena *arena, struct length width, struct length height,
                          const struct text *svg, const struct text *elements)
{
	struct text out = text_start(arena);
	const char *root = strstr(svg->bytes, "<svg ");
	assert(root != NULL);
	size_t across_length = 0;
	size_t down_length = 0;
	const char *across = find_value(root, " width=\"", &across_length);
	const char *down = find_value(across, " height=\"", &down_length);
	const char *end = svg->bytes + svg->length;
	static const char tail[] = "</svg>\n";
	assert(svg->length > sizeof tail && strcmp(end - (sizeof tail - 1), tail) == 0);
	text_add_bytes(&out, svg->bytes, (size_t)(across - svg->bytes));
	text_add_format(&out, "%.4fmm", length_to_mm(width));
	across += across_length;
	text_add_bytes(&out, across, (size_t)(down - across));
	text_add_format(&out, "%.4fmm", length_to_mm(height));
	down += down_length;
	text_add_bytes(&out, down, (size_t)(end - down) - (sizeof tail - 1));
	text_add_bytes(&out, elements->bytes, elements->length);
	text_add(&out, tail);
	return out;
}

/* CRC-32 of a chunk: PNG specification of the W3C, 5.5 and annex D. */
static uint32_t crc_of(const unsigned char *bytes, size_t count)
{
	uint32_t crc = UINT32_C(0xffffffff);
	for (size_t i = 0; i < count; i++) {
		crc ^= bytes[i];
		for (int bit = 0; bit < 8; bit++) {
			crc = (crc & 1) != 0 ? UINT32_C(0xedb88320) ^ (crc >> 1) : crc >> 1;
		}
	}
	return crc ^ UINT32_C(0xffffffff);
}

static void put_number(unsigned char *out, uint32_t number)
{
	for (int i = 0; i < 4; i++) {
		out[i] = (unsigned char)(number >> (24 - 8 * i));
	}
}

struct text png_with_resolution(struct arena *arena, int64_t dots_per_inch, const struct text *png)
{
	/* Behind the signature and the header, which come first in every PNG. */
	const size_t before = 8 + 25;
	unsigned char chunk[21] = {0, 0, 0, 9, 'p', 'H', 'Y', 's'};
	uint32_t dots_a_metre = (uint32_t)((dots_per_inch * 10000 + 127) / 254);
	put_number(chunk + 8, dots_a_metre);
	put_number(chunk + 12, dots_a_metre);
	chunk[16] = 1;
	put_number(chunk + 17, crc_of(chunk + 4, 13));
	struct text out = text_start(arena);
	assert(png->length > before);
	text_add_bytes(&out, png->bytes, before);
	text_add_bytes(&out, (const char *)chunk, sizeof chunk);
	text_add_bytes(&out, png->bytes + before, png->length - before);
	return out;
}
