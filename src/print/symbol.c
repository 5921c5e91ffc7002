/*
 * Symbols by libzint, which no other file knows. Out come modules alone: how wide one is, and where
 * the quiet zones end, is for the layout.
 */
#include <string.h>

#include <zint.h>

#include "internal.h"

/*
 * Quiet zones, in X. Code 128: 10 each side (ISO/IEC 15417; GS1 General Specifications 5.4.4.2, GS1
 * AISBL, Brussels). Data Matrix: 1 all around (GS1 DataMatrix Guideline, GS1 AISBL). QR: 4 all
 * around (Denso Wave, Kariya: "Point for setting the module size", QRcode.com).
 */
#define QUIET_CODE_128 10
#define QUIET_DATA_MATRIX 1
#define QUIET_QR 4

/* GS1 General Specifications 5.4.4.3: at most 48 data characters, identifiers included. */
#define GS1_128_CHARACTERS_MOST 48

/* Rectangles of Data Matrix as zint numbers them: 8x18, 8x32, 12x26, 12x36, 16x36, 16x48. */
#define RECTANGLE_FIRST 25
#define RECTANGLE_LAST 30

/* Error correction of QR as zint numbers it: M, which restores 15 % (ISO/IEC 18004). */
#define QR_LEVEL_M 2

const char *symbology_name(enum symbology symbology)
{
	static const char *const names[] = {"code128", "datamatrix", "qr", "none"};
	return names[symbology];
}

/* Characters of a GS1 content without the brackets of its identifiers. */
static size_t count_characters(const char *content)
{
	size_t count = 0;
	for (; *content != '\0'; content++) {
		count += *content != '[' && *content != ']' ? 1 : 0;
	}
	return count;
}

static int encode(struct zint_symbol *symbol, int number, bool gs1, const char *content)
{
	symbol->symbology = number;
	symbol->show_hrt = 0;
	symbol->warn_level = WARN_FAIL_ALL; /* what the standard forbids is no symbol to us */
	symbol->input_mode = gs1 ? GS1_MODE : DATA_MODE;
	return ZBarcode_Encode(symbol, (const unsigned char *)content, 0);
}

/* The first rectangle that holds it; zint's own choice would weigh squares against it. */
static int encode_rectangle(struct zint_symbol *symbol, const struct tag_face *face)
{
	int result = ZINT_ERROR_TOO_LONG;
	for (int size = RECTANGLE_FIRST; result >= ZINT_ERROR && size <= RECTANGLE_LAST; size++) {
		ZBarcode_Clear(symbol);
		symbol->option_2 = size;
		result = encode(symbol, BARCODE_DATAMATRIX, face->gs1, face->content);
	}
	return result;
}

static int encode_by(struct zint_symbol *symbol, enum symbology symbology, enum symbol_shape shape,
                     const struct tag_face *face)
{
	switch (symbology) {
	case SYMBOLOGY_CODE_128:
		return encode(symbol, face->gs1 ? BARCODE_GS1_128 : BARCODE_CODE128, face->gs1,
		              face->content);
	case SYMBOLOGY_DATA_MATRIX:
		if (shape == SHAPE_RECTANGLE) {
			return encode_rectangle(symbol, face);
		}
		symbol->option_3 = DM_SQUARE;
		return encode(symbol, BARCODE_DATAMATRIX, face->gs1, face->content);
	case SYMBOLOGY_QR:
		symbol->option_1 = QR_LEVEL_M;
		return encode(symbol, BARCODE_QRCODE, face->gs1, face->content);
	case SYMBOLOGY_NONE:
		break;
	}
	return ZINT_ERROR_INVALID_OPTION;
}

static void take_modules(struct arena *arena, const struct zint_symbol *symbol,
                         enum symbology symbology, struct symbol *out)
{
	out->linear = symbology == SYMBOLOGY_CODE_128;
	out->quiet = out->linear                          ? QUIET_CODE_128
	             : symbology == SYMBOLOGY_DATA_MATRIX ? QUIET_DATA_MATRIX
	                                                  : QUIET_QR;
	out->wide = symbol->width;
	out->high = out->linear ? 1 : symbol->rows;
	unsigned char *modules = arena_take(arena, (size_t)(out->wide * out->high), 1);
	for (int64_t y = 0; y < out->high; y++) {
		for (int64_t x = 0; x < out->wide; x++) {
			modules[y * out->wide + x] = (symbol->encoded_data[y][x / 8] >> (x % 8)) & 1;
		}
	}
	out->modules = modules;
}

enum outcome symbol_make(struct arena *arena, enum symbology symbology, enum symbol_shape shape,
                         const struct tag_face *face, struct symbol *out, struct fault *fault)
{
	if (symbology == SYMBOLOGY_CODE_128 && face->gs1 &&
	    count_characters(face->content) > GS1_128_CHARACTERS_MOST) {
		fault_set(fault, OUTCOME_BAD, "content of %s is longer than a GS1-128 symbol may be: %s",
		          face->code, face->content);
		fault_hint(fault, "It takes %d characters; datamatrix and qr take more.",
		           GS1_128_CHARACTERS_MOST);
		return OUTCOME_BAD;
	}
	struct zint_symbol *symbol = ZBarcode_Create();
	if (symbol == NULL) {
		return fault_set(fault, OUTCOME_STORE, "memory is full, no symbol of %s was made",
		                 face->code);
	}
	enum outcome outcome = OUTCOME_DONE;
	if (encode_by(symbol, symbology, shape, face) >= ZINT_ERROR) {
		outcome = fault_set(fault, OUTCOME_BAD, "content of %s makes no %s symbol, %s: %s",
		                    face->code, symbology_name(symbology), symbol->errtxt, face->content);
	} else {
		take_modules(arena, symbol, symbology, out);
	}
	ZBarcode_Delete(symbol);
	return outcome;
}
